/** A browser tab that notes everything it should not do: leave this machine, break its policy, or fail. */
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';

export interface Tab extends AsyncDisposable {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Requests that were meant for anywhere but this machine. */
  readonly abroad: readonly string[];
  /** Errors of the page and of its policy. */
  readonly errors: readonly string[];
}

const atHome = (address: string): boolean => {
  const url = new URL(address);
  if (['data:', 'blob:', 'about:'].includes(url.protocol)) return true;
  return url.hostname === '127.0.0.1' || url.hostname === 'localhost' || url.hostname.endsWith('.localhost');
};

/** Opens a tab and waits until the workshop is drawn. */
export const openTab = async (
  browser: Browser,
  address: string,
  options: BrowserContextOptions = {},
): Promise<Tab> => {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    locale: 'en-US',
    acceptDownloads: true,
    reducedMotion: 'reduce',
    ...options,
  });
  context.setDefaultTimeout(20_000);
  const abroad: string[] = [];
  const errors: string[] = [];
  const page = await context.newPage();
  context.on('request', (request) => {
    if (!atHome(request.url())) abroad.push(request.url());
  });
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning') errors.push(message.text());
  });
  await page.goto(address);
  await page.locator('main h1').waitFor();
  return {
    page,
    context,
    abroad,
    errors,
    [Symbol.asyncDispose]: () => context.close(),
  };
};

/** Goes to a screen by its address and waits for its heading and its figures. */
export const goTo = async (page: Page, path: string): Promise<void> => {
  await page.evaluate((hash) => {
    location.hash = hash;
  }, `#/${path}`);
  await settled(page);
};

/** Waits until nothing is being asked for and nothing moves. */
export const settled = async (page: Page): Promise<void> => {
  await page.waitForLoadState('networkidle');
  await page.locator('main h1').first().waitFor();
};

/** A browser tab that notes everything it should not do: leave this machine, break its policy, or fail. */
import type { Browser, BrowserContext, BrowserContextOptions, Page, Request } from 'playwright-core';

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
  countCalls(page);
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

const quietMs = 120;

/** Calls each page is still waiting for; its sign of life does not count. */
const waiting = new WeakMap<Page, Set<Request>>();

const countCalls = (page: Page): void => {
  const open = new Set<Request>();
  waiting.set(page, open);
  page.on('request', (request) => {
    if (!/\/(alive|goodbye)$/.test(request.url())) open.add(request);
  });
  page.on('requestfinished', (request) => open.delete(request));
  page.on('requestfailed', (request) => open.delete(request));
};

/** Waits until a heading stands and nothing more is being asked for. */
export const settled = async (page: Page): Promise<void> => {
  await page.locator('main h1').first().waitFor();
  const until = performance.now() + 20_000;
  let quietSince = performance.now();
  while (performance.now() - quietSince < quietMs) {
    if (performance.now() > until) throw new Error('The page never stops asking');
    if ((waiting.get(page)?.size ?? 0) > 0) quietSince = performance.now();
    await page.waitForTimeout(20);
  }
};

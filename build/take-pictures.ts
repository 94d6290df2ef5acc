/** Takes the README's pictures of the demo workshop, in light, small enough to keep in the project. */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BrowserContext, Page } from 'playwright-core';
import { startHouse } from '../tests/e2e/support/house.ts';
import { goTo, openTab, settled } from '../tests/e2e/support/watch.ts';
import { startChromium } from '../tests/webhost/support/chromium.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const folder = path.join(root, 'build', 'pictures');
const mostBytes = 200 * 1024;
const knife = 'W29';
/** Crooked after the quench, still open. */
const doubtful = 'W45';

const keep = (name: string, picture: Uint8Array): void => {
  if (picture.length > mostBytes)
    throw new Error(`${name} has ${Math.ceil(picture.length / 1024)} KB, more than 200 KB.`);
  writeFileSync(path.join(folder, `${name}.png`), picture);
  process.stdout.write(`${name}.png, ${Math.ceil(picture.length / 1024)} KB\n`);
};

const shoot = async (page: Page, name: string): Promise<void> => {
  await settled(page);
  // Messages pass, charts finish, nothing keeps a focus ring.
  const messages = page.getByRole('status', { name: 'Messages' });
  await messages.locator('p').first().waitFor({ state: 'hidden', timeout: 30_000 });
  await page.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
  await page.mouse.move(0, 0);
  await page.waitForTimeout(600);
  keep(name, await page.screenshot({ type: 'png' }));
};

/** Brings a part of the screen to the top. */
const scrollTo = async (page: Page, name: string): Promise<void> => {
  const part = page.getByRole('heading', { name });
  await part.waitFor();
  await settled(page);
  await part.evaluate((heading) => {
    heading.scrollIntoView({ block: 'start' });
  });
};

/** The address behind a link of the screen. */
const addressOf = async (page: Page, name: string | RegExp): Promise<string> => {
  const link = page.locator('main').getByRole('link', { name, exact: typeof name === 'string' });
  const href = await link.first().getAttribute('href');
  if (href === null) throw new Error(`No link ${String(name)} on ${page.url()}`);
  return href.replace(/^#\//, '');
};

/** Plans two knives and lets the clock run on a batch, so that the bench has something on it. */
const beginWork = async (page: Page): Promise<void> => {
  await goTo(page, 'builds');
  await page.getByRole('button', { name: 'Plan a knife' }).click();
  const sheet = page.getByRole('dialog');
  await sheet.getByLabel('Model', { exact: true }).fill('PET');
  await sheet.getByLabel('Model', { exact: true }).press('Enter');
  await sheet.getByLabel('How many').fill('2');
  await sheet.getByLabel('Batch').fill('B15');
  await sheet.getByRole('button', { name: 'Plan them' }).click();
  await sheet.waitFor({ state: 'hidden' });
  await goTo(page, 'bench');
  await page
    .getByRole('button', { name: /Grind after hardening.*W42/ })
    .first()
    .click();
  await page.getByText('Running now').waitFor();
};

const readerOf = (name: string): string =>
  path.join(root, 'node_modules', 'pdfjs-dist', 'legacy', 'build', name);

interface Reader {
  getDocument(of: { data: Uint8Array }): { promise: Promise<Paper> };
}
interface Paper {
  getPage(at: number): Promise<Sheet>;
}
interface Sheet {
  getViewport(of: { scale: number }): { width: number; height: number };
  render(into: { canvas: HTMLCanvasElement; viewport: unknown }): { promise: Promise<void> };
}

/** The first page of a PDF as a picture, drawn by an independent reader in a blank tab. */
const drawPaper = async (context: BrowserContext, base64: string): Promise<Uint8Array> => {
  const page = await context.newPage();
  for (const name of ['pdf.worker.mjs', 'pdf.mjs'])
    await page.addScriptTag({ path: readerOf(name), type: 'module' });
  await page.waitForFunction(() => 'pdfjsLib' in globalThis && 'pdfjsWorker' in globalThis);
  await page.evaluate(async (text) => {
    const reader = Reflect.get(globalThis, 'pdfjsLib') as Reader;
    const data = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const sheet = await (await reader.getDocument({ data }).promise).getPage(1);
    const viewport = sheet.getViewport({ scale: 1.3 });
    const canvas = document.createElement('canvas');
    canvas.width = viewport.width;
    canvas.height = viewport.height;
    document.body.append(canvas);
    await sheet.render({ canvas, viewport }).promise;
  }, base64);
  const picture = await page.locator('canvas').screenshot({ type: 'png' });
  await page.close();
  return picture;
};

const savedPaper = async (page: Page): Promise<string> => {
  await page.getByRole('button', { name: 'More' }).last().click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('menuitem', { name: 'Save the paper' }).click(),
  ]);
  const parts: Buffer[] = [];
  for await (const part of await download.createReadStream()) parts.push(part as Buffer);
  return Buffer.concat(parts).toString('base64');
};

/** The year, its money, and the questions the books answer. */
const takeAnswers = async (page: Page): Promise<void> => {
  await goTo(page, 'orders/quotes');
  await goTo(page, await addressOf(page, /^Q-\d+/));
  await scrollTo(page, 'Four views of the price');
  await shoot(page, 'quote');
  await goTo(page, 'builds/next');
  await shoot(page, 'next');
  await goTo(page, 'money');
  await shoot(page, 'money');
  await goTo(page, 'year');
  await shoot(page, 'year');
  await goTo(page, 'year/sheet');
  await shoot(page, 'sheet');
  await goTo(page, 'ask');
  await shoot(page, 'ask');
};

const take = async (page: Page, context: BrowserContext): Promise<void> => {
  await beginWork(page);
  await goTo(page, 'bench');
  await shoot(page, 'bench');
  await goTo(page, 'builds');
  await shoot(page, 'builds');
  const address = await addressOf(page, knife);
  await goTo(page, address);
  await shoot(page, 'knife');
  await goTo(page, `${address}/cost`);
  await shoot(page, 'cost-sheet');
  await goTo(page, 'stock');
  await shoot(page, 'stock');
  await goTo(page, 'stock/cutting');
  await page.getByLabel('What is cut').fill('0.080');
  await page.getByLabel('What is cut').press('Enter');
  await scrollTo(page, 'The plan');
  await shoot(page, 'cutting');
  await goTo(page, 'stock/makings');
  await goTo(page, await addressOf(page, /^M-\d+/));
  await shoot(page, 'making');
  await goTo(page, 'consumables');
  await shoot(page, 'consumables');
  await goTo(page, 'builds/gates');
  await shoot(page, 'gates');
  await goTo(page, 'hours');
  await shoot(page, 'hours');
  await goTo(page, address);
  await goTo(page, await addressOf(page, /^2025-\d+$/));
  await shoot(page, 'invoice');
  keep('invoice-paper', await drawPaper(context, await savedPaper(page)));
  await goTo(page, 'orders');
  await goTo(page, await addressOf(page, /^O-\d+/));
  await shoot(page, 'order');
  await goTo(page, 'orders/promises');
  await shoot(page, 'promises');
  await goTo(page, 'releases');
  await goTo(page, await addressOf(page, /^R2/));
  await shoot(page, 'release');
  await goTo(page, 'trials');
  await goTo(page, await addressOf(page, /plain chef/));
  await shoot(page, 'trial');
  await goTo(page, 'builds');
  await goTo(page, `${await addressOf(page, doubtful)}/ways`);
  await shoot(page, 'ways');
  await goTo(page, 'margins');
  await shoot(page, 'margins');
  await takeAnswers(page);
};

mkdirSync(folder, { recursive: true });
const browser = await startChromium(process.env['KNIFEWRIGHT_CHROMIUM'] ?? '/usr/bin/chromium');
try {
  await using house = await startHouse({ demo: true });
  await using tab = await openTab(browser, house.address, { colorScheme: 'light' });
  await take(tab.page, tab.context);
} finally {
  await browser.close();
}

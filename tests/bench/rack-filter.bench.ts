/**
 * Narrowing a rack of twenty thousand lots, from the key to the paint, on a processor slowed four times, against a bare
 * array of the same texts narrowed in the same way into a plain table on a blank page.
 */
import assert from 'node:assert/strict';
import { cpSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { createOpener } from '../../electron/hosting/open-workshop.ts';
import { runLoopback } from '../../electron/webhost/host.ts';
import { startEngine } from '../../electron/workshop/engine.ts';
import { startChromium } from '../webhost/support/chromium.ts';
import { call, freshFolder, openBooks, removeFolder } from './books.ts';
import { compare } from './pairs.ts';
import { fillRack, LOTS } from './rack-books.ts';

const built = fileURLToPath(new URL('../../.out/renderer', import.meta.url));
if (!existsSync(built))
  throw new Error('The pages are not built; run “npm run bench”, which builds them first.');
const SLOWED = 4;
/** What is typed: a heat of some twenty lots, an item, a place of five hundred, a heat of two, and nothing: all again. */
const typed = ['h-123', 'material 123', 'rack 17', 'h-1234', ''];

const folder = freshFolder();
const own = join(folder, 'shop');
mkdirSync(own, { mode: 0o700 });
await fillRack(own);
const core = await openBooks(own);
const { rows } = await call(core, 'stock.lots', { limit: LOTS });
await core.close();
assert.equal(rows.length, LOTS);
const cells = rows.map((lot) => [lot.tag, lot.itemName, lot.place, lot.heatNumber, lot.receivedOn]);

const rendererRoot = join(folder, 'page');
cpSync(built, rendererRoot, { recursive: true });
writeFileSync(
  join(rendererRoot, 'bare.html'),
  '<!doctype html><html lang="en"><title>Bare</title><body><main><input><table><tbody></tbody></table></main></body></html>',
);

const folders = { own, demo: join(folder, 'demo') };
const lines: string[] = [];
const host = await runLoopback({
  flags: { demo: false, noOpen: true, port: 0, stopWhenIdle: false, idleSeconds: 90 },
  folders,
  rendererRoot,
  version: '0.0.0-bench',
  platform: process.platform,
  print: (line) => lines.push(line),
  openWorkshop: createOpener({ kind: 'loopback', folders, startEngine }),
});
if (host === undefined) throw new Error('Another host answered');
const browser = await startChromium(process.env['KNIFEWRIGHT_CHROMIUM'] ?? '/usr/bin/chromium');
const context = await browser.newContext({ viewport: { width: 1440, height: 900 } });

/** In the page: types a text and answers the milliseconds until what it leaves has been painted. */
const typeAndPaint = (text: string): Promise<number> =>
  new Promise((resolve) => {
    const box = document.querySelector<HTMLInputElement>('main input');
    if (box === null) throw new Error('there is nothing to type into');
    const from = performance.now();
    box.value = text;
    box.dispatchEvent(new Event('input', { bubbles: true }));
    // The frame after this one has it on the screen.
    requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - from), 0));
  });

const openedOn = async (address: string): Promise<Page> => {
  const page = await context.newPage();
  await page.goto(address);
  return page;
};
const slow = async (page: Page): Promise<void> => {
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
};

const ours = await openedOn(/http\S+/.exec(lines[0] ?? '')?.[0] ?? '');
await ours.locator('main h1').waitFor();
await ours.evaluate(() => (location.hash = '#/stock/lots'));
await ours.locator('main tbody tr a').first().waitFor();

const bare = await openedOn(`${host.origin}/bare.html`);
await bare.evaluate((list) => {
  const found = list.map((row) => ({ row, text: row.join('\n').toLowerCase() }));
  const body = document.querySelector('tbody');
  document.querySelector('input')?.addEventListener('input', (event) => {
    const text = event.target instanceof HTMLInputElement ? event.target.value : '';
    const words = text.split(' ');
    // As many rows as a screen and a little more hold.
    const shown = found.filter((one) => words.every((word) => one.text.includes(word))).slice(0, 40);
    body?.replaceChildren(
      ...shown.map(({ row }) => {
        const line = document.createElement('tr');
        for (const cell of row)
          line.append(Object.assign(document.createElement('td'), { textContent: cell }));
        return line;
      }),
    );
  });
}, cells);
await slow(ours);
await slow(bare);

const all = async (page: Page): Promise<number> => {
  await page.bringToFront();
  let worst = 0;
  for (const text of typed) worst = Math.max(worst, await page.evaluate(typeAndPaint, text));
  return worst;
};
/** What a heat typed must leave. */
const expected = rows.filter((lot) => lot.heatNumber.toLowerCase().includes('h-123'));
await ours.bringToFront();
await ours.evaluate(typeAndPaint, 'h-123');
assert.ok((await ours.locator('main').innerText()).includes(`${String(expected.length)} lots, worth`));
assert.equal(await ours.locator('main tbody tr a').first().innerText(), expected[0]?.tag);

await compare({
  name: `a rack of ${LOTS.toLocaleString('en')} lots narrowed while one types, processor slowed ${String(SLOWED)} times`,
  limit: 2,
  pairs: 7,
  timesItself: true,
  floorIs:
    'a bare array of the same texts narrowed into a plain table of forty rows; the slowest of five texts',
  ours: { run: () => all(ours) },
  floor: { run: () => all(bare) },
});
await browser.close();
await host.stop();
removeFolder(folder);
process.exit();

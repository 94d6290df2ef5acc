/** The list of 10 000 knives, from going there to being painted, against a blank page of the same server and browser. */
import assert from 'node:assert/strict';
import { cpSync, existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { createOpener } from '../../electron/hosting/open-workshop.ts';
import { runLoopback } from '../../electron/webhost/host.ts';
import { startEngine } from '../../electron/workshop/engine.ts';
import { startChromium } from '../webhost/support/chromium.ts';
import { freshFolder, openBooks, planManyKnives, removeFolder } from './books.ts';
import { compare } from './pairs.ts';

const built = fileURLToPath(new URL('../../.out/renderer', import.meta.url));
if (!existsSync(built))
  throw new Error('The pages are not built; run “npm run bench”, which builds them first.');

const folder = freshFolder();
const own = join(folder, 'shop');
mkdirSync(own, { mode: 0o700 });
const core = await openBooks(own);
await planManyKnives(core);
await core.close();

/** The built pages, and beside them one with a single word. */
const rendererRoot = join(folder, 'page');
cpSync(built, rendererRoot, { recursive: true });
writeFileSync(
  join(rendererRoot, 'blank.html'),
  '<!doctype html><html lang="en"><title>Blank</title><body><main><p>Blank</p></main></body></html>',
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
const address = /http\S+/.exec(lines[0] ?? '')?.[0] ?? '';

const browser = await startChromium(process.env['KNIFEWRIGHT_CHROMIUM'] ?? '/usr/bin/chromium');
const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
const first = await context.newPage();
await first.goto(address);
await first.locator('main h1').waitFor();
const secret = await first.evaluate(() => JSON.stringify(Object.fromEntries(Object.entries(sessionStorage))));

/** In the page: notes when what is looked for has been painted. */
const watchFor = (selector: string): void => {
  const look = (): void => {
    if (document.querySelector(selector) === null) {
      requestAnimationFrame(look);
      return;
    }
    // The frame after the next has the thing on the screen.
    requestAnimationFrame(() => setTimeout(() => Reflect.set(window, 'paintedAt', performance.now()), 0));
  };
  look();
};

/** Opens a tab that already holds the key, as after the first visit. */
const newTab = async (): Promise<Page> => {
  const page = await context.newPage();
  await page.addInitScript((kept) => {
    if (location.protocol !== 'http:') return;
    for (const [name, value] of Object.entries(JSON.parse(kept) as Record<string, string>))
      sessionStorage.setItem(name, value);
  }, secret);
  return page;
};

/** Milliseconds from going there until it is painted, as the page itself counts them. */
const painted = async (page: Page, path: string, selector: string): Promise<number> => {
  await page.goto('about:blank');
  await page.goto(`${host.origin}${path}`, { waitUntil: 'commit' });
  await page.evaluate(watchFor, selector);
  const at = await page.waitForFunction(() => Reflect.get(window, 'paintedAt') as number | undefined);
  return Number(await at.jsonValue());
};

// One tab for both: a tab behind another one is hardly painted at all.
const ours = await newTab();
const blank = ours;
await painted(ours, '/#/builds', 'main tbody tr a');
assert.ok((await ours.locator('main').innerText()).includes('10,000 knives.'));
await painted(blank, '/blank.html', 'main p');
assert.equal(await blank.locator('main').innerText(), 'Blank');

await compare({
  name: 'first list of 10,000 knives painted',
  limit: 3,
  timesItself: true,
  floorIs: 'a blank page of the same server in the same browser',
  ours: { run: () => painted(ours, '/#/builds', 'main tbody tr a') },
  floor: { run: () => painted(blank, '/blank.html', 'main p') },
});
await browser.close();
await host.stop();
removeFolder(folder);
process.exit();

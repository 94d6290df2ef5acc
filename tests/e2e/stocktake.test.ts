/** A stocktake in the real application, by keyboard alone: the sheet, two counts, a reason, the end, and both papers. */
import { readFile } from 'node:fs/promises';
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { readBack, textOf } from '../documents/read-back.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

const INCH = 25_400_000;

const ready = (): Promise<string> =>
  readyShop(async (rig) => {
    const shelf = await stockShelf(rig);
    const [lotId = ''] = await shelf.buy('bar', 1, 48 * INCH, 24);
    await rig.call('stock.moveLot', { lotId, place: 'Rack 1', heatNumber: 'H7', note: '' });
    await shelf.buy('walnut', 3, 1_000_000, 30);
  });

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('a stocktake', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('is started, counted line by line, finished and printed', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    const paper = async (button: string): Promise<string> => {
      const coming = page.waitForEvent('download');
      await hands.press(button);
      return textOf(await readBack(new Uint8Array(await readFile(await (await coming).path()))));
    };
    await goTo(page, 'stock/stocktake');
    await hands.press('Start a stocktake');
    await hands.send('Make the sheet');
    await hands.see('What it comes to so far');
    const sheet = await paper('Count sheet');
    expect(sheet).toContain('Rack 1');
    expect(sheet).toContain('L-0001');
    expect(sheet).not.toContain('48');
    // Fractions of an inch; Enter sends the line and goes on to the next.
    await hands.write('Counted, line 1', '45 1/2');
    await page.keyboard.press('Enter');
    await hands.see('−2 1/2 in');
    await page.waitForFunction(
      () => document.activeElement?.closest<HTMLElement>('[data-line]')?.dataset['line'] === '2',
    );
    await page.keyboard.type('3 oz');
    await page.keyboard.press('Enter');
    await hands.see('“oz” measures a weight');
    await page.keyboard.press('Control+A');
    await page.keyboard.type('3');
    await page.keyboard.press('Enter');
    await hands.see('as the books say');
    await hands.pick('Why line 1 differs', 'Used');
    await hands.press('Finish');
    await hands.send('Book and finish');
    await hands.see('What it came to');
    const result = await paper('Result as PDF');
    expect(result).toContain('used without booking');
    expect(result).toContain('52.75');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

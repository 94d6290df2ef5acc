/** The cutting plan in the real application: knives that wait, bars to cut, sheets to saw, one confirmation. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
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
    const steel = await rig.call('stock.saveItem', {
      name: 'Carbon bar 1/8 × 1.5',
      kind: 'steel',
      form: 'length',
      unit: 'in',
      kerfNm: INCH / 16,
      usefulRemnant: 6 * INCH,
    });
    const bar = { itemId: steel.id, pieces: 1, priceMicro: 24_000_000 };
    const sheet = { itemId: shelf.itemIds.sheet, pieces: 1, priceMicro: 60_000_000 };
    const lines = [
      { ...bar, qtyEach: 48 * INCH },
      { ...bar, qtyEach: 48 * INCH },
      { ...sheet, qtyEach: toBase(144, 'sqin') },
    ];
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: '2024-07-02', lines });
    await rig.call('stock.saveItem', { name: 'Laminate scales', kind: 'handle', form: 'pair', unit: 'pair' });
    const model = await rig.call('builds.saveModel', {
      code: 'HUN',
      name: 'Fellgate hunter',
      stages: [],
      flats: [],
      parts: [{ label: 'Steel', itemId: steel.id, use: 'material', qty: 8.5 * INCH }],
    });
    await rig.call('builds.plan', { modelId: model.id, count: 3, on: '2024-07-06' });
  });

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('the cutting plan', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('cuts blanks for the knives that wait, by keyboard alone', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const hands = new Hands(tab.page);
    await goTo(tab.page, 'stock/cutting');
    await hands.see('3 blanks from L-0001');
    await hands.press('Add a blank');
    await hands.write('Length', '3/0');
    await tab.page.keyboard.press('Tab');
    await hands.see('divides by zero');
    await hands.write('Length', '9 1/4');
    await hands.see('4 blanks from L-0001');
    await hands.press('Cut as planned');
    await hands.see('4 blanks will be cut from L-0001');
    await hands.press('Cut 4 blanks');
    await hands.see('4 blanks cut from L-0001. L-0004 is new on the rack.');
    await hands.see('No knife waits for a blank of this');
    await goTo(tab.page, 'builds');
    expect(await tab.page.locator('main').innerText()).toContain('In work');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('measures a sheet, saws it into pairs, and keeps the offcuts', async () => {
    await using house = await startHouse({ folder: await ready() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'stock/cutting');
    await hands.choose('What is cut', 'Laminate sheet');
    await hands.press('Enter the size of L-0003');
    await hands.write('Length, along the grain', '12');
    await hands.write('Width', '12');
    await hands.see(', as the books have it.');
    await hands.send('Write down the size');
    await hands.write('How many', '4');
    await hands.write('Length', '5');
    await hands.write('Width', '1 1/2');
    await hands.write('Width of the cut', '1/16');
    await hands.see('4 pieces from L-0003');
    await hands.see('The cuts, in this order');
    await hands.choose('Pieces without a knife go to', 'Laminate scales');
    await hands.press('Cut as planned');
    await hands.press('Cut 4 pieces');
    await hands.see('4 pieces cut from L-0003.');
    await goTo(page, 'stock');
    const rack = await page.locator('main').innerText();
    expect(rack).toContain('Laminate scales');
    expect(rack).toContain('2 pairs');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

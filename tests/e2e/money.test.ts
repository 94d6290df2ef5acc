/** Receipts in a row, an asset and a month of supporters, entered at the keyboard in a real browser. */
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { addDays, addMonths, monthEnd, monthStart } from '../../electron/domain/calendar.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab, settled } from './support/watch.ts';

/** One supporter since before last month, counted from the day the test runs on. */
const withSupporter = (): Promise<string> =>
  readyShop(async (rig) => {
    const level = await rig.call('buyers.saveLevel', { name: 'Friend', rank: 1, perMonthMinor: 600 });
    const { id } = await rig.call('selling.saveBuyer', { name: 'Ann', country: 'US', taxPlaceId: null });
    await rig.call('buyers.support', { buyerId: id, levelId: level.id, from: '2024-07-01' });
  });

const main = (page: Page): Promise<string> => page.locator('main').innerText();
const png = Buffer.from(
  'iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==',
  'base64',
);

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('money', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('takes receipts one after the other, an asset with its schedule, and last month’s supporters', async () => {
    await using house = await startHouse({ folder: await withSupporter() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'money');
    await hands.write('Paid to', 'Tumbrel Machine Parts');
    await hands.pick('Category', 'Small tools and repairs');
    await hands.write('Amount', '64');
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'bearings.png', mimeType: 'image/png', buffer: png });
    await hands.press('Enter');
    await hands.see('1 file');
    // The focus is back at the payee, day and category are kept: the second one is a name and a sum.
    await page.keyboard.type('Hobnail');
    await hands.write('Amount', '38.50');
    await page.keyboard.press('Enter');
    await hands.see('2 entries, $102.50 of cost.');
    // The same once more is asked about and nothing is lost.
    await page.keyboard.type('Hobnail');
    await hands.write('Amount', '38.50');
    await page.keyboard.press('Enter');
    await hands.see(/is in the books already/);
    await hands.press('Enter it all the same');
    await hands.see('3 entries, $141.00 of cost.');

    await goTo(page, 'money/assets');
    await hands.press('Write down the first one');
    await hands.write('What it is', 'Grinder');
    await hands.write('Cost as invoiced, with delivery', '2400');
    await hands.see(/it may be an expense at once instead/);
    await hands.write('Life in months', '24');
    await hands.send('Save the asset');
    await page.getByRole('link', { name: 'Grinder' }).click();
    await hands.arrive('Grinder');
    await settled(page);
    const rows = await page.locator('main table').first().innerText();
    const left = [...rows.matchAll(/\$([\d,.]+)/g)].map((found) => Number((found[1] ?? '').replace(',', '')));
    // Written off, until then, left: three figures a year, and nothing is left of 2,400.00 after the last.
    expect(left.slice(-2)).toEqual([2400, 0]);
    expect(left.filter((_, at) => at % 3 === 0).reduce((so, sum) => so + sum, 0)).toBe(2400);

    await goTo(page, 'money/income');
    const today = new Date().toISOString().slice(0, 10);
    const last = addDays(monthStart(today), -1);
    expect(monthEnd(addMonths(today, -1))).toBe(last);
    await hands.press(/^Book supporters of/);
    await hands.write('The platform kept', '0.48');
    await hands.send('Book the month');
    await hands.see('1 entry, $6.00 before $0.48 of fees.');
    expect(await main(page)).toContain('1 × Friend');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  }, 180_000);
});

/** At the gates and on the buying list, in a real browser on the maker's own books. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

const on = '2024-07-06';

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('gates and buying', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('check a batch at a gate by keyboard, and show it on the knife', async () => {
    const folder = await readyShop(async (rig) => {
      const shelf = await stockShelf(rig);
      for (const id of await shelf.plan(2)) await rig.call('builds.start', { id, on });
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'builds/gates');
    await hands.press('Begin with common practice');
    await page.keyboard.type('Paring');
    await page.keyboard.press('Enter');
    await hands.see('5–10 thou');
    await hands.press('Check a batch');
    await hands.press('Go on');
    await hands.see('Three to five dents');
    await hands.write('Dent 1', '61');
    await hands.write('Dent 1', '55', 1);
    await hands.see('Outside what is asked for');
    await page.getByRole('radio', { name: 'To rework' }).nth(1).press('Space');
    await hands.send('Write it down');
    await hands.see('61 HRC (720 HV)');
    await hands.see('55 HRC (595 HV)');
    await page.locator('table').first().getByRole('link').first().click();
    await page.getByRole('tab', { name: 'Gates' }).click();
    await hands.see('asked 59–62 HRC, best 60.5');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('list what planned knives lack, order it, and receive it into the stock', async () => {
    const folder = await readyShop(async (rig) => {
      const shelf = await stockShelf(rig);
      await shelf.buy('walnut', 1, 1_000_000, 14);
      await shelf.plan(3);
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    await goTo(page, 'stock/buying');
    const group = page.getByRole('region', { name: 'Greyfen Bar & Strip' });
    await group.getByRole('button', { name: 'Write the order' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Write the order' }).click();
    await page.getByText('On their way').waitFor();
    await page.getByRole('button', { name: 'It has come' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Put it in the books' }).click();
    await page
      .getByRole('heading', { level: 1 })
      .filter({ hasText: /Purchase|Greyfen/ })
      .waitFor();
    await goTo(page, 'stock/buying');
    await page.getByRole('heading', { name: 'Stock' }).waitFor();
    expect(await page.getByText('On their way').count()).toBe(0);
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

/** From a wish to the knife in a real browser, by keyboard alone, on the maker's own books. */
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
describe.runIf(chromiumPath !== undefined)('the order book', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('takes a rule over, a wish to an offer, an agreement with its deposit, a knife and its delivery', async () => {
    let serial = '';
    const folder = await readyShop(async (rig) => {
      const shelf = await stockShelf(rig);
      const [id = ''] = await shelf.plan(1);
      await rig.call('builds.start', { id, on });
      await rig.call('builds.finish', { id, on });
      serial = (await rig.call('builds.get', { id })).serial;
      await rig.call('selling.saveBuyer', { name: 'Petra Gorsewick', country: 'US' });
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'orders/rules');
    await hands.press('Look at it and take it over');
    await hands.send('Save the rule');
    await hands.see('In force');

    await goTo(page, 'orders');
    await hands.press('Write down a wish');
    await hands.choose('Who asks', 'Petra', 'Petra Gorsewick');
    await hands.write('What is wanted', 'A slim paring knife');
    await hands.press('Write it down');
    await hands.arrive('O-0001 · Petra Gorsewick');

    await hands.press('Make an offer');
    await hands.write('Price', '300');
    await hands.pick('Paid through', 'Own website');
    await hands.send('Make the offer');
    await hands.press('They agreed');
    await hands.see('By the rule $90.00');
    await hands.write('Paid by', 'Card');
    await hands.send('It is agreed');
    await hands.press('Say which knife');
    await hands.choose('Knife', serial);
    await hands.send('Link it');

    await hands.see(`${serial} is finished. $229.50 is left to invoice.`);
    await hands.press('Deliver it');
    await hands.write('Paid by', 'Cash');
    await hands.send('Deliver it and issue the invoice');
    await hands.see('and settled.');
    await goTo(page, 'orders');
    await hands.see('Customers’ money held');
    await page.getByLabel('Show').selectOption('ended');
    await page
      .getByRole('row', { name: /O-0001/ })
      .getByText('Delivered')
      .waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

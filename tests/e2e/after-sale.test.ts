/** What follows a sale in a real browser, by keyboard alone, on the maker's own books: parcel, service, return. */
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
describe.runIf(chromiumPath !== undefined)('after the sale', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('packs a parcel abroad, writes a service down and invoices it, and takes the knife back', async () => {
    let serial = '';
    let saleId = '';
    const folder = await readyShop(async (rig) => {
      const shelf = await stockShelf(rig);
      const [id = ''] = await shelf.plan(1);
      await rig.call('builds.start', { id, on });
      await rig.call('builds.finish', { id, on });
      serial = (await rig.call('builds.get', { id })).serial;
      const buyer = { name: 'Katya Ferrowind', address: '9 Foundry Wharf', city: 'Ferrowind', country: 'GB' };
      const { id: buyerId } = await rig.call('selling.saveBuyer', buyer);
      const [channel] = await rig.call('workshop.channels', {});
      const terms = {
        channelId: channel?.id ?? '',
        taxPlaceId: null,
        priceMinor: 30_000,
        shippingMinor: 4800,
      };
      const ticks = ['law', 'age'];
      const sale = { buildId: id, buyerId, on, ...terms, abroad: true, ticks, invoice: false };
      ({ saleId } = await rig.call('selling.sell', sale));
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);

    await goTo(page, `invoices/pack/${saleId}`);
    await hands.see('UNITED KINGDOM');
    await hands.write('Carried by', 'Air mail');
    await hands.write('Tariff number', '8211.92');
    await hands.write('Weight, all of it', '12 oz');
    await hands.press('Put it in the books');
    await hands.see('Before it leaves, look at this and tick it');
    await hands.tick('I checked the rule in force');
    await hands.tick('The buyer is old enough there');
    await hands.press('Put it in the books');
    await hands.see('1 parcel, 1 of them abroad.');
    await hands.see('12.0 oz');

    await goTo(page, 'invoices/service');
    await hands.press('A knife came in');
    await hands.choose('Knife', serial);
    await hands.write('Asked for it', '15');
    // How a day is typed differs from browser to browser.
    const days = page.getByRole('dialog').getByLabel(/^(Came in|Done)/);
    await days.nth(1).fill(await days.nth(0).inputValue());
    await hands.send('Write it down');
    await hands.see('$15.00 asked');
    await hands.press('More');
    await page.getByRole('menuitem', { name: 'Issue the invoice' }).press('Enter');
    await hands.press('Transfer');
    await hands.press('Issue the invoice');
    await hands.arrive(/^Service invoice/);
    await hands.see('Sharpening');

    await goTo(page, 'invoices/sales');
    await hands.press(`Issue the invoice for ${serial}`);
    await hands.press('Issue the invoice');
    await hands.see('Still open');
    await goTo(page, 'invoices/sales');
    await hands.press('More');
    await page.getByRole('menuitem', { name: 'The knife comes back' }).press('Enter');
    await hands.press('20 %');
    await hands.see('$288.00');
    await hands.write('Condition', 'Unused, in its box');
    await hands.send('Take it back');
    await hands.see('taken back');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

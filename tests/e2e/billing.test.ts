/** A free invoice from the first line to the money given back, by keyboard, in a real browser on the maker's own books. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one this counts as skipped.
describe.runIf(chromiumPath !== undefined)('invoices in full', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('are written, issued, asked for, paid and settled', async () => {
    const folder = await readyShop(async (rig) => {
      await rig.call('selling.saveBuyer', {
        name: 'Nell Thistlecombe',
        address: '33 Carder Lane',
        country: 'US',
      });
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'invoices/draft');
    await hands.choose('Buyer', 'Nell', 'Nell Thistlecombe');
    await hands.write('What', 'Sharpening');
    await hands.write('How much', '2.5');
    await hands.write('Price of one', '20');
    await hands.see('$50.00');
    await hands.press('Issue it…');
    await page.getByRole('dialog').waitFor();
    await page.getByRole('dialog').getByLabel('Issued').fill('2024-07-06');
    await page.getByRole('dialog').getByLabel('Due').fill('2024-07-20');
    await hands.send('Issue the invoice');
    await hands.arrive('Service invoice 2024-0001');
    await hands.see('Overdue');
    await goTo(page, 'invoices/owed');
    await hands.see('Over 90 days late');
    await hands.follow('Statement of Nell Thistlecombe');
    await hands.arrive('Statement of Nell Thistlecombe');
    await goTo(page, 'invoices');
    await hands.follow('2024-0001');
    await hands.press('Record a payment');
    await hands.write('Amount', '60');
    await hands.press('Transfer');
    await hands.send('Record the payment');
    await hands.see('Paid too much');
    await hands.press('Give money back');
    await hands.press('Transfer');
    await hands.send('Book it as given back');
    await page.getByText('To give back').waitFor({ state: 'detached' });
    await hands.see('given back: Paid too much');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

/** Buyers in a real browser, by keyboard, on the maker's own books. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('buyers', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('come from cards, support, are put together when they are one person, and are forgotten when they ask', async () => {
    const folder = await readyShop(async (rig) => {
      await rig.call('selling.saveBuyer', { name: 'Eamon Tidelatch', email: 'eamon@tidelatch.example' });
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);

    await goTo(page, 'imports/buyers');
    const card =
      'BEGIN:VCARD\nVERSION:4.0\nFN:Tidelatch\\, Eamon 🔪\nADR:;;17 Slipway;Tidelatch;;00678;U.S.A.\nEND:VCARD';
    await hands.write('Or paste the lines here', card);
    await hands.see('This may be Eamon Tidelatch');
    await page
      .getByLabel('Or paste the lines here')
      .fill(card.replace('Tidelatch\\, Eamon 🔪', 'E. Tide 🔪'));
    await hands.press('Book 1 buyer');
    await hands.see('1 buyer is in the books');

    await goTo(page, 'buyers/supporters');
    await hands.press('New level');
    await hands.write('Name', 'Supporter');
    await hands.write('A month', '6.00');
    await hands.send('Save the level');
    await goTo(page, 'buyers');
    await hands.follow('E. Tide 🔪');
    await hands.arrive('E. Tide 🔪');
    await hands.press('Begin support');
    await hands.send('Write it down');
    await hands.see('since');

    await hands.press('More');
    await page.getByRole('menuitem', { name: 'Put together with another entry' }).press('Enter');
    await hands.choose('The other entry', 'Eamon');
    await hands.follow('See both side by side');
    await hands.arrive('One person, two entries');
    await page.getByRole('radio', { name: 'Eamon Tidelatch' }).press('Space');
    await hands.press('Put them together');
    await page.getByRole('alertdialog').getByRole('button', { name: 'Put them together' }).press('Enter');
    await hands.arrive('Eamon Tidelatch');
    await hands.see('eamon@tidelatch.example');
    await hands.see('Tidelatch 00678');

    await hands.press('More');
    await page.getByRole('menuitem', { name: 'Forget this person' }).press('Enter');
    await hands.see('Its entries are sealed one to the next');
    await hands.tick('Forget Eamon Tidelatch for good');
    await hands.send('Forget this person');
    await hands.arrive('Forgotten person');
    await hands.see('at this person’s wish');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

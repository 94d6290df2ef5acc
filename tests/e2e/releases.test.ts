/** First look in a real browser: a draw from the hat, an offer declined, a draft made by keyboard. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import type { Rig } from '../workshop/rig.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

const on = '2024-07-06';

async function finished(rig: Rig, count: number): Promise<readonly string[]> {
  const shelf = await stockShelf(rig);
  const ids = await shelf.plan(count);
  for (const id of ids) {
    await rig.call('builds.start', { id, on });
    await rig.call('builds.finish', { id, on });
  }
  return ids;
}

/** A release by lot whose hat was closed long ago, with two names in it, and a knife that is in no release. */
async function hatIsClosed(rig: Rig): Promise<void> {
  const [buildId = ''] = await finished(rig, 2);
  const { id: levelId } = await rig.call('buyers.saveLevel', { name: 'Friend', rank: 1, perMonthMinor: 600 });
  const people = [];
  for (const name of ['Ottoline Fernshaw', 'Tavish Pennycask']) {
    const { id } = await rig.call('selling.saveBuyer', {
      name,
      address: name,
      email: 'reader@reader.example',
    });
    await rig.call('buyers.support', { buyerId: id, levelId, from: on });
    people.push(id);
  }
  const { id } = await rig.call('releases.save', {
    title: 'Spring by lot',
    rule: 'lot',
    holdMinutes: 60,
    earlyFrom: '2024-07-06T13:00:00.000Z',
    earlyUntil: '2024-07-06T18:00:00.000Z',
    knives: [{ buildId, priceMinor: 15_000, shippingMinor: 1200 }],
  });
  await rig.call('releases.move', { id, to: 'set' });
  rig.clock.set('2024-07-06T14:00:00.000Z');
  for (const buyerId of people) await rig.call('releases.enter', { id, buyerId });
}

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('First look', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('draws from the hat, offers to the next name, and makes a draft, all by keyboard', async () => {
    const folder = await readyShop(hatIsClosed);
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'releases');
    await hands.see('By the draw');
    await hands.follow('R1');
    await hands.arrive('R1 Spring by lot');
    await page.getByRole('tab', { name: 'Names in the hat' }).click();
    await hands.write('Words or figures agreed beforehand', 'Harvest fair 4711');
    await hands.press('Draw');
    await hands.see('Seed Harvest fair 4711');
    await hands.see('waited for');
    await page.getByRole('tab', { name: 'Knives' }).click();
    await hands.press('Declined');
    await hands.press('Offer to the next name');
    await hands.see('Tell them; nothing is sent from here.');
    await page.getByRole('tab', { name: 'Fairness log' }).click();
    await hands.see('Declined');

    await goTo(page, 'releases');
    await hands.keys('n');
    await hands.write('Title', 'Summer');
    await hands.choose('Add a knife', '2');
    await hands.write('Price', '150');
    await hands.send('Save');
    await hands.arrive('R2 Summer');
    await hands.press('Set the release');
    await hands.see('Set, not shown yet');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

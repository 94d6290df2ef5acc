/** From a wish to a quote, its paper, and the offer in the order book, in a real browser by keyboard. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

const dayMs = 86_400_000;
const daysAgo = (days: number): string => new Date(Date.now() - days * dayMs).toISOString().slice(0, 10);

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('quotes', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('goes from a wish over four views of the price to a kept quote, its paper and an offer', async () => {
    let model = '';
    const folder = await readyShop(async (rig) => {
      await stockShelf(rig);
      const [first] = await rig.call('builds.models', {});
      model = `${first?.code ?? ''} ${first?.name ?? ''}`;
      await rig.call('promises.setWeek', { weekMinutes: 300 });
      const buyer = await rig.call('selling.saveBuyer', { name: 'Petra Gorsewick', country: 'US' });
      await rig.call('orders.ask', {
        buyerId: buyer.id,
        modelId: first?.id ?? '',
        wish: 'A slim one',
        on: '2024-07-06',
      });
      rig.clock.set(daysAgo(0));
      const { ids } = await rig.call('builds.plan', {
        ...{ modelId: first?.id ?? '', count: 5, on: daysAgo(90) },
      });
      const done = ids.slice(0, 2);
      const shares = done.map((buildId) => ({ buildId }));
      await rig.call('hours.book', {
        ...{ on: daysAgo(85), minutes: 30, stageCode: 'CUT', workKind: null, shares },
      });
      for (const id of done) await rig.call('builds.finish', { id, on: daysAgo(20) });
    });
    await using house = await startHouse({ folder });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'orders');
    await hands.follow('O-0001');
    await hands.follow('Work out a quote');
    await hands.arrive('New quote');
    await hands.see('For the wish O-0001 of Petra Gorsewick.');
    await hands.see('Four views of the price');
    expect(await page.getByLabel('Nearest model').locator('option:checked').textContent()).toBe(model);
    // A guess of three points; Malcolm et al. (1959): mean (3 + 4 · 4 + 9.5) / 6 h, spread (9.5 - 3) / 6 h.
    await page.getByText('What to compare with, and what I know better').click();
    await hands.write('Hours as I know them', '4');
    await hands.write('At best', '5');
    await hands.write('At worst', '9.5');
    await hands.see('At best it takes no longer than most likely.');
    await hands.write('At best', '3');
    await hands.see('Mean of the guess: 4 h 45 min, give or take 1 h 5 min.');
    await hands.press('Take this price: Floor at your rate');
    await hands.see('At the price named');
    await hands.press('Keep the quote');
    await hands.arrive('Q-0001 · Petra Gorsewick');
    await hands.see('Floor at your rate');

    const [paper] = await Promise.all([page.waitForEvent('download'), hands.press('Save PDF')]);
    expect(paper.suggestedFilename()).toBe('Quote Q-0001.pdf');
    await hands.press('Make it an offer');
    await hands.arrive('O-0001 · Petra Gorsewick');
    await hands.see('They agreed');
    await hands.follow('Q-0001');
    await hands.arrive('Q-0001 · Petra Gorsewick');
    await goTo(page, 'orders/quotes');
    await page
      .getByRole('row', { name: /Q-0001/ })
      .getByText('Became an offer')
      .waitFor();
    // Little's law (1961), W = L / λ: three are open, two were done in ten weeks, so 3 / 0.2 = 15 weeks.
    await goTo(page, 'orders/promises');
    await hands.see(
      /3 open, 2 finished in the last ten whole weeks, that is 0.2 a week: the last one waits about 15 weeks\./,
    );
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });
});

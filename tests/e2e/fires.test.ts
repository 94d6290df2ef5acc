/** Oil, gas, current and a heat treatment, from the empty screens to the knife's cost, in a real browser. */
import type { Browser, Page } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { micro, stockShelf } from '../workshop/shelf.ts';
import { Hands } from './support/hands.ts';
import { startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { goTo, openTab } from './support/watch.ts';

/** Three planned knives of one batch, oil and gas on the rack. */
const withOilAndGas = (): Promise<string> =>
  readyShop(async (rig) => {
    const shelf = await stockShelf(rig);
    const on = '2024-07-06';
    await rig.call('builds.plan', { modelId: shelf.modelId, count: 3, on, batch: 'August kitchen' });
    const oil = await rig.call('stock.saveItem', {
      name: 'Quench oil',
      kind: 'oil',
      form: 'volume',
      unit: 'gal',
    });
    const gas = await rig.call('stock.saveItem', {
      name: 'Propane',
      kind: 'fuel',
      form: 'weight',
      unit: 'lb',
    });
    const lines = [
      { itemId: oil.id, pieces: 1, qtyEach: toBase(6, 'gal'), priceMicro: micro(177.6) },
      { itemId: gas.id, pieces: 2, qtyEach: toBase(20, 'lb'), priceMicro: micro(24) },
    ];
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on, lines });
  });

const main = (page: Page): Promise<string> => page.locator('main').innerText();

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('the fire', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  it('is booked at the keyboard: a bath filled, an oven, a price of current, a firing and a recipe', async () => {
    await using house = await startHouse({ folder: await withOilAndGas() });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'consumables/fires');
    await hands.press('Make the first bath');
    await hands.write('Name of the tank', 'Five-gallon tank');
    await hands.choose('Oil in it', 'Quench');
    await hands.write('Change after', '300');
    await hands.write('Flash point', '180 C');
    await hands.see('180 °C = 356 °F');
    await hands.send('Save the bath');
    await hands.press('Fill it');
    await hands.write('How much', '5');
    await hands.send('Fill it');
    await hands.see('0 of 300');
    expect(await main(page)).toContain('keep the oil under 306 °F (152 °C)');

    await page.getByRole('tab', { name: 'Ovens and forges' }).click();
    await hands.press('Write down the first one');
    await hands.write('Name', 'Kiln');
    await hands.write('Power', '2400');
    await hands.send('Save it');
    await page.getByRole('tab', { name: 'Current', exact: true }).click();
    await hands.press('Set a price');
    await hands.write('Price', '0.1725');
    await page.getByLabel('From', { exact: true }).fill('2024-07-01');
    await hands.send('Set the price');

    await hands.keys('f');
    await hands.pick('Oven', 'Kiln');
    // A time without its unit is not guessed.
    await hands.write('Oven was on', '6');
    await page.keyboard.press('Tab');
    await hands.see('hours or minutes?');
    await hands.write('Oven was on', '6 h 30 min');
    await hands.press(/^August kitchen/);
    await hands.send('Book it');
    const row = page.getByRole('row', { name: /9\.36 kWh/ });
    await row.waitFor();
    expect(await row.innerText()).toContain('$1.61');

    await goTo(page, 'builds/heats');
    await page.getByRole('tab', { name: 'Recipes' }).click();
    await hands.press('Write the first recipe');
    await hands.write('Name', 'Thin kitchen');
    await hands.write('Temperature', '1500 F', 0);
    await hands.write('How long', '10 min', 0);
    await hands.write('Temperature', '400', 1);
    await hands.write('How long', '2 h', 2);
    await hands.press('Save the recipe');
    // The last temper has no time yet: said beside it, nothing lost.
    await hands.see('Write a time.');
    await page
      .getByLabel(/^Temperature/)
      .nth(2)
      .fill('400 F');
    await page
      .getByLabel(/^How long/)
      .nth(3)
      .fill('2 h');
    await hands.send('Save the recipe');
    await hands.see('Soak 1500 °F (816 °C), Quench, 2 × Temper 400 °F (204 °C)');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  }, 180_000);

  it('leads from a record to its waits, its oil, its gas and its paper, and to the knife', async () => {
    await using house = await startHouse({
      folder: await readyShop(async (rig) => {
        const shelf = await stockShelf(rig);
        const on = '2024-07-06';
        await rig.call('builds.plan', { modelId: shelf.modelId, count: 2, on, batch: 'August kitchen' });
        const oil = await rig.call('stock.saveItem', {
          name: 'Quench oil',
          kind: 'oil',
          form: 'volume',
          unit: 'gal',
        });
        const gas = await rig.call('stock.saveItem', {
          name: 'Propane',
          kind: 'fuel',
          form: 'weight',
          unit: 'lb',
        });
        const lines = [
          { itemId: oil.id, pieces: 1, qtyEach: toBase(5, 'gal'), priceMicro: micro(148) },
          { itemId: gas.id, pieces: 1, qtyEach: toBase(20, 'lb'), priceMicro: micro(24) },
        ];
        await rig.call('stock.buy', { supplierId: shelf.supplierId, on, lines });
        const bath = { name: 'Tank', itemId: oil.id, lifeQuenches: 300, flashMilliC: 180_000 };
        const { id } = await rig.call('baths.save', bath);
        await rig.call('baths.pour', { bathId: id, kind: 'fill', qty: toBase(5, 'gal'), on });
        await rig.call('fires.save', {
          name: 'Forge',
          kind: 'forge',
          burnRateNg: toBase(2, 'lb'),
          gasItemId: gas.id,
        });
      }),
    });
    await using tab = await openTab(browser, house.address);
    const { page } = tab;
    const hands = new Hands(page);
    await goTo(page, 'builds/heats');
    await hands.press('Write down the first one');
    await hands.pick('Heated in', 'Forge');
    await hands.pick('Quenched in', 'Tank');
    await hands.press(/^August kitchen/);
    const times = page.getByLabel(/^How long/);
    await times.nth(0).fill('10 min');
    await times.nth(2).fill('2 h');
    await times.nth(3).fill('2 h');
    // Hot oil: 320 °F is within 50 °F of 356 °F.
    await page.getByLabel(/^Oil/).fill('320 F');
    await hands.send('Write it down');
    await hands.arrive('H-0001');
    expect(await main(page)).toContain('within 28 °C (50 °F) of its flash point');

    await hands.press('Start the wait of step 3, Temper');
    await hands.see('See to the waits');
    await hands.press('Book the quench');
    await hands.send('Book the quench');
    await hands.see('2 quenches booked');
    await hands.press('Book a firing');
    await hands.write('Hours of fire', '1 h');
    await hands.send('Book it');
    await hands.see('1 h × 2 lb/h');
    const file = page.waitForEvent('download');
    await hands.press('Record as PDF');
    expect((await file).suggestedFilename()).toBe('Heat treatment H-0001.pdf');

    await page.getByRole('link', { name: 'W01' }).first().click();
    await hands.arrive('W01');
    await page.getByRole('link', { name: 'H-0001' }).waitFor();
    expect(await main(page)).toMatch(/Heat treatment\s+H-0001/);
    // 148.00 ÷ 300 of oil and half of 2 lb at 1.20: 0.49 + 1.20.
    expect(await main(page)).toContain('$1.69');
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  }, 180_000);
});

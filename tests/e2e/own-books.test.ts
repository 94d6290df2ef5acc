/** A maker's own books: records brought in, hostile text, and a program that dies while the clock runs. */
import type { Browser } from 'playwright-core';
import { beforeAll, describe, expect, it } from 'vitest';
import { chromiumPath, sharedChromium } from '../webhost/support/chromium.ts';
import { stockShelf } from '../workshop/shelf.ts';
import { type House, startHouse } from './support/house.ts';
import { readyShop } from './support/ready.ts';
import { screensOf } from './support/screens.ts';
import { goTo, openTab, type Tab } from './support/watch.ts';

const hostile = `"><img src=x onerror="window.hurt=1"><script>window.hurt=1</script><a href="javascript:window.hurt=1">`;

// Needs a Chromium (KNIFEWRIGHT_CHROMIUM or /usr/bin/chromium); without one these count as skipped.
describe.runIf(chromiumPath !== undefined)('a maker’s own books', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await sharedChromium();
  });

  const opened = async (house: House): Promise<Tab> => openTab(browser, house.address);

  it('book nothing of a file with a bad line, and name the line', async () => {
    await using house = await startHouse({
      folder: await readyShop(async (rig) => {
        await stockShelf(rig);
      }),
    });
    await using tab = await opened(house);
    const { page } = tab;
    await goTo(page, 'imports/purchases');
    const good =
      'date,supplier,item,pieces,quantity,price\n2024-07-01,Greyfen Bar & Strip,Walnut pair,2,1,28.00\n';
    const box = page.getByLabel('Or paste the lines here');
    await box.fill(`${good}2024-07-02,Greyfen Bar & Strip,Walnut pair,1,1,fourteen\n`);
    await page.getByRole('cell', { name: '3', exact: true }).first().waitFor();
    expect(await page.locator('main').innerText()).toContain('fourteen');
    // What cannot be booked cannot be asked for.
    const button = page.getByRole('button', { name: /^Book/ });
    expect((await button.count()) === 0 || (await button.first().isDisabled())).toBe(true);
    await goTo(page, 'stock/purchases');
    // What was pasted is not in the books yet, so it is asked about.
    await page.getByRole('alertdialog').getByRole('button', { name: 'Throw it away' }).click();
    await page.getByText('No purchases yet').waitFor();
    await goTo(page, 'imports/purchases');
    await page.getByLabel('Or paste the lines here').fill(good);
    await page.getByRole('button', { name: /^Book/ }).click();
    await page.getByText('is in the books').waitFor();
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('show hostile text as text on every screen', async () => {
    const folder = await readyShop(async (rig) => {
      const shelf = await stockShelf(rig);
      const supplier = await rig.call('stock.saveSupplier', { name: hostile, note: hostile });
      const item = {
        name: hostile,
        kind: 'steel' as const,
        form: 'length' as const,
        unit: 'in',
        note: hostile,
      };
      const { id: itemId } = await rig.call('stock.saveItem', item);
      const line = {
        itemId,
        pieces: 1,
        qtyEach: 25_400_000,
        priceMicro: 1_000_000,
        heatNumber: hostile,
        place: hostile,
      };
      const on = '2024-07-05';
      await rig.call('stock.buy', {
        supplierId: supplier.id,
        on,
        reference: hostile,
        note: hostile,
        lines: [line],
      });
      const model = { code: '<b>X</b>', name: hostile, method: hostile, note: hostile };
      const { id: modelId } = await rig.call('builds.saveModel', {
        ...model,
        stages: [],
        parts: [],
        flats: [],
      });
      const plan = { modelId, on, title: hostile, batch: hostile, note: hostile };
      const [knife = ''] = (await rig.call('builds.plan', { ...plan, serial: '<i>W</i>' })).ids;
      await rig.call('builds.addNote', { id: knife, text: hostile });
      await rig.call('builds.start', { id: knife, on });
      await rig.call('stock.draw', {
        buildId: knife,
        itemId,
        qty: 1_000_000,
        use: 'material',
        on,
        reason: hostile,
      });
      const work = { stageCode: 'CUT', workKind: null, shares: [{ buildId: knife }], note: hostile };
      await rig.call('hours.book', { on, minutes: 30, ...work });
      await rig.call('builds.finish', { id: knife, on });
      const making = { title: hostile, kind: 'billet' as const, note: hostile, on };
      const { id: makingId } = await rig.call('makings.start', making);
      const weighed = { kind: 'stack' as const, label: hostile, note: hostile, weightAfterNg: 1_000_000_000 };
      await rig.call('makings.step', { makingId, on, ...weighed });
      await rig.call('makings.charge', { makingId, on, label: hostile, amountMicro: 1_000_000 });
      const buyer = await rig.call('selling.saveBuyer', { name: hostile, address: hostile, note: hostile });
      const [channel] = await rig.call('workshop.channels', {});
      const sale = {
        buildId: knife,
        channelId: channel?.id ?? '',
        taxPlaceId: null,
        priceMinor: 100,
        shippingMinor: 0,
      };
      await rig.call('selling.sell', { ...sale, buyerId: buyer.id, on, invoice: false });
      await shelf.plan(1);
    });
    await using house = await startHouse({ folder });
    await using tab = await opened(house);
    const seen: string[] = [];
    for (const screen of await screensOf(tab.page, [
      'invoices',
      'money/assets',
      'orders',
      'orders/quotes',
      'releases',
      'stock/stocktake',
      'trials',
    ])) {
      await goTo(tab.page, screen);
      if ((await tab.page.locator('main').innerText()).includes('onerror=')) seen.push(screen);
      expect(await tab.page.evaluate(() => 'hurt' in window)).toBe(false);
    }
    // It was there to be seen, so it was tried.
    expect(seen).toEqual(
      expect.arrayContaining(['builds', 'stock/items', 'stock/makings', 'buyers', 'invoices/sales']),
    );
    expect([tab.abroad, tab.errors]).toEqual([[], []]);
  });

  it('keep the clock running when the program is killed', async () => {
    const folder = await readyShop(async (rig) => {
      const [knife = ''] = await (await stockShelf(rig)).plan(1);
      await rig.call('builds.start', { id: knife, on: '2024-07-06' });
    });
    const first = await startHouse({ folder });
    {
      await using tab = await opened(first);
      await goTo(tab.page, 'hours');
      await tab.page.getByRole('button', { name: 'Cut and profile' }).click();
      await tab.page.getByRole('button', { name: /^W01/ }).click();
      await tab.page.getByRole('button', { name: 'Start', exact: true }).last().click();
      await tab.page.getByText('Running now').waitFor();
      await first.kill();
    }
    await using second = await startHouse({ folder });
    await using tab = await opened(second);
    await goTo(tab.page, 'hours');
    await tab.page.getByText('Running now').waitFor();
    const clock = tab.page.getByRole('form', { name: 'Clock' });
    expect(await clock.innerText()).toMatch(/Cut and profile[\s\S]*W01/);
  });
});

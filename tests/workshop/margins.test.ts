import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makeParing, openShop, pack, type Shop, siteOf } from './shop.ts';

let shop: Shop;
const ids: Record<string, string> = {};

beforeAll(async () => {
  shop = await openShop();
  const sales = [
    // Demo workshop, tables 10.7 and 10.9: serial, minutes, day, tax place, tax, fee and contribution.
    ['W01', 410, '2024-08-06', null],
    ['W02', 395, '2024-08-09', null],
    ['W03', 380, '2024-10-25', shop.places[0]?.id ?? ''],
  ] as const;
  for (const [serial, minutes, on, taxPlaceId] of sales) {
    ids[serial] = await makeParing(shop, serial, minutes);
    await pack(shop, ids[serial], on);
    await shop.call('selling.sell', {
      buildId: ids[serial],
      channelId: siteOf(shop),
      taxPlaceId,
      priceMinor: 15_000,
      shippingMinor: 1200,
      postagePaidMinor: 1205,
      buyerId: shop.buyerId,
      on,
    });
  }
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

describe('the margins of a period', () => {
  it('bring every knife with the figures of its cost sheet', async () => {
    const { knives } = await shop.call('margins.period', { from: '2024-07-01', to: '2024-12-31' });
    expect(
      knives.map((k) => [
        k.serial,
        k.feeMinor,
        k.directMinor,
        k.contributionMinor,
        k.minutes,
        k.perHourMinor,
      ]),
    ).toEqual([
      ['W01', 500, 4217, 10_278, 410, 1504],
      ['W02', 500, 4217, 10_278, 395, 1561],
      ['W03', 530, 4217, 10_248, 380, 1618],
    ]);
    const sheet = await shop.call('costs.sheet', { buildId: ids['W03'] ?? '' });
    expect(knives[2]).toMatchObject({
      materialsMinor: sheet.materialsMinor,
      consumablesMinor: sheet.consumables.amountMinor,
      energyMinor: sheet.energy.amountMinor,
      packagingMinor: sheet.packaging.amountMinor,
      contributionMinor: sheet.sale?.contributionMinor,
    });
  });

  it('split price and shipping into parts that add up', async () => {
    const period = await shop.call('margins.period', { from: '2024-07-01', to: '2024-12-31' });
    expect(period.went.map(({ key, amountMinor }) => [key, amountMinor])).toEqual([
      ['materials', 6294],
      ['consumables', 4092],
      ['energy', 225],
      ['packaging', 2040],
      ['postage', 3615],
      ['fees', 1530],
      ['left', 30_804],
    ]);
    expect(period.went.reduce((sum, part) => sum + part.amountMinor, 0)).toBe(3 * (15_000 + 1200));
    expect(period.total).toEqual({
      count: 3,
      salesMinor: 45_000,
      directMinor: 12_651,
      contributionMinor: 30_804,
      minutes: 1185,
      perHourMinor: 1560,
      taxCollectedMinor: 1053,
    });
  });

  it('show every month of the period, those without a sale too', async () => {
    const { months } = await shop.call('margins.period', { from: '2024-07-15', to: '2024-10-31' });
    expect(months.map(({ month, count, salesMinor }) => [month, count, salesMinor])).toEqual([
      ['2024-07', 0, 0],
      ['2024-08', 2, 30_000],
      ['2024-09', 0, 0],
      ['2024-10', 1, 15_000],
    ]);
  });

  it('take both ends in and leave the rest out', async () => {
    const { knives, models } = await shop.call('margins.period', { from: '2024-08-06', to: '2024-08-09' });
    expect(knives.map((knife) => knife.serial)).toEqual(['W01', 'W02']);
    expect(models).toMatchObject([
      { modelCode: 'PAR', modelName: 'Tessel paring', count: 2, salesMinor: 30_000 },
    ]);
  });

  it('refuse a period that ends before it begins', async () => {
    expect(await shop.fault('margins.period', { from: '2024-08-09', to: '2024-08-06' })).toMatchObject({
      kind: 'invalid',
      field: 'to',
    });
  });

  it('count a sale that was taken back no more, but the postage and fee spent on it', async () => {
    const { rows } = await shop.call('selling.invoices', { text: 'W03' });
    await shop.call('selling.credit', {
      invoiceId: rows[0]?.id ?? '',
      on: '2024-12-01',
      reason: 'came back',
      knifeComesBack: true,
    });
    const period = await shop.call('margins.period', { from: '2024-07-01', to: '2024-12-31' });
    // Two knives of 102.78, less 12.05 of postage and 5.30 of fee for nothing.
    const left = 2 * 10_278 - 1205 - 530;
    expect(period.total).toMatchObject({
      count: 2,
      salesMinor: 30_000,
      directMinor: 8434,
      contributionMinor: left,
      minutes: 805,
      taxCollectedMinor: 0,
    });
    expect(period.knives[2]).toMatchObject({
      serial: 'W03',
      takenBack: true,
      priceMinor: 0,
      directMinor: 0,
      contributionMinor: -1735,
      perHourMinor: null,
    });
    expect(period.went.reduce((sum, part) => sum + part.amountMinor, 0)).toBe(2 * (15_000 + 1200));
    expect(period.models.reduce((sum, model) => sum + model.contributionMinor, 0)).toBe(left);
    expect(period.months.reduce((sum, month) => sum + month.contributionMinor, 0)).toBe(left);
  });

  it('follow what was given back of the fee afterwards, and leave out a sale that cost nothing', async () => {
    const back = (await shop.call('selling.sales', { text: 'W03' })).rows[0];
    expect(back?.contributionMinor).toBe(-1735);
    const actuals = { saleId: back?.id ?? '', postagePaidMinor: 1205, feeMinor: 0, reason: 'fee returned' };
    await shop.call('selling.actuals', actuals);
    const span = { from: '2024-07-01', to: '2024-12-31' };
    expect((await shop.call('margins.period', span)).total.contributionMinor).toBe(2 * 10_278 - 1205);
    await shop.call('selling.actuals', { ...actuals, postagePaidMinor: 0 });
    expect((await shop.call('margins.period', span)).knives.map((knife) => knife.serial)).toEqual([
      'W01',
      'W02',
    ]);
  });
});

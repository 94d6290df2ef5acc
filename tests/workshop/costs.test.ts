import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { fileName } from '../../electron/workshop/costs/files.ts';
import { idOf, INCH, makeParing, ONE, openShop, pack, PIECE, type Shop, siteOf } from './shop.ts';

let shop: Shop;
let w01: string;
let w02: string;

beforeAll(async () => {
  shop = await openShop();
  w01 = await makeParing(shop, 'W01');
  await pack(shop, w01);
  w02 = idOf(shop.knives, 'W02');
});
afterAll(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const sellW01 = () =>
  shop.call('selling.sell', {
    buildId: w01,
    channelId: siteOf(shop),
    taxPlaceId: null,
    priceMinor: 15_000,
    shippingMinor: 1200,
    postagePaidMinor: 1205,
    buyerId: shop.buyerId,
    on: '2024-08-06',
    invoice: false,
  });

describe('the cost sheet', () => {
  it('adds the lines shown, each rounded once', async () => {
    const sheet = await shop.call('costs.sheet', { buildId: w01 });
    expect(sheet.materials.map(({ key, label, amountMinor }) => [key, label, amountMinor])).toEqual([
      ['material:Steel', 'Steel', 400],
      ['material:Handle', 'Handle', 1400],
      ['material:Fittings', 'Fittings', 210],
      ['material:Glue', 'Glue', 88],
    ]);
    expect([
      sheet.materialsMinor,
      sheet.consumables.amountMinor,
      sheet.energy.amountMinor,
      sheet.packaging.amountMinor,
    ]).toEqual([2098, 1364, 75, 680]);
    expect(sheet.directMinor).toBe(4217);
  });

  it('shows on lists and on the knife’s page the sum of the lines shown, not of their exact values', async () => {
    const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2024-07-06' });
    const buildId = ids[0] ?? '';
    // Three lines of 0.015 are shown as 0.02 each; the exact sum, 0.045, would be shown as 0.05.
    for (const use of ['material', 'consumable', 'energy'] as const) {
      const charge = { buildId, on: '2024-07-06', label: use, use, amountMicro: 15_000 };
      await shop.call('builds.charge', charge);
    }
    const sheet = await shop.call('costs.sheet', { buildId });
    const page = await shop.call('builds.get', { id: buildId });
    const row = (await shop.call('builds.list', {})).rows.find((each) => each.id === buildId);
    expect([sheet.directMinor, page.costMicro, row?.costMicro]).toEqual([6, 60_000, 60_000]);
  });

  it('shows labour by stage so that the stages add up to the labour line', async () => {
    const { ids } = await shop.call('builds.plan', { modelId: shop.modelId, count: 1, on: '2024-07-06' });
    const buildId = ids[0] ?? '';
    for (const stageCode of ['GR2', 'HND', 'SHP']) {
      const work = { on: '2024-07-20', minutes: 10, stageCode, workKind: null, shares: [{ buildId }] };
      await shop.call('hours.book', work);
    }
    // Ten minutes at 35.00 are 5.8333…: what a pencil adds are three lines of 5.83.
    const sheet = await shop.call('costs.sheet', { buildId });
    expect(sheet.stages.map((stage) => stage.labourMinor)).toEqual([583, 583, 583]);
    expect(sheet.labour.amountMinor).toBe(1749);
    expect(sheet.labour.working.map(({ label, how, exactMicro }) => [label, how, exactMicro])).toEqual(
      sheet.stages.map(({ name }) => [name, '10 min × 35.00/h', 5_830_000]),
    );
  });

  it('says of each figure where it came from and how it was reckoned', async () => {
    const sheet = await shop.call('costs.sheet', { buildId: w01 });
    const [steel, handle, fittings] = sheet.materials.map((line) => line.working[0]);
    expect(steel).toMatchObject({
      on: '2024-07-06',
      label: 'Stainless strip 0.070 × 1.25',
      how: '8 in of L-0001 (48 in bar at 24.00)',
      exactMicro: 4_000_000,
      rung: null,
    });
    expect(steel?.source?.kind).toBe('lot');
    expect(handle?.how).toBe('1 pair of L-0002 (8 pairs at 112.00)');
    expect(fittings?.how).toBe('2.10 worth of L-0003 (118.00 at 118.00)');
    expect(sheet.consumables).toMatchObject({
      note: 'flat per knife',
      working: [{ label: 'Belts and other', rung: 1, source: { kind: 'charge' } }],
    });
    expect(sheet.energy).toMatchObject({
      note: 'usual for the model',
      working: [{ how: 'usual for the model', rung: 2 }],
    });
  });

  it('values each session at the rates of its own day', async () => {
    const sheet = await shop.call('costs.sheet', { buildId: w01 });
    expect(
      sheet.stages.map(({ code, minutes, labourMinor, working }) => [
        code,
        minutes,
        labourMinor,
        working[0]?.how,
      ]),
    ).toEqual([['GR2', 410, 23_917, '410 min × 35.00/h']]);
    // By hand: 410 / 60 × 35.00 = 239.1666…, 410 / 60 × 8.03 = 54.8716…
    expect([sheet.labour.amountMinor, sheet.overhead.amountMinor]).toEqual([23_917, 5487]);
    await shop.call('workshop.setRate', { kind: 'labour', from: '2024-07-21', perHourMicro: 40 * ONE });
    await shop.call('hours.book', {
      on: '2024-07-21',
      minutes: 30,
      stageCode: 'HND',
      workKind: null,
      shares: [{ buildId: w02 }],
    });
    await shop.call('hours.book', {
      on: '2024-07-20',
      minutes: 30,
      stageCode: 'HND',
      workKind: null,
      shares: [{ buildId: w02 }],
    });
    const other = await shop.call('costs.sheet', { buildId: w02 });
    expect(other.labour.amountMinor).toBe(3750);
    expect(other.labour.working).toMatchObject([
      { label: 'Hand finish', how: '30 min × 35.00/h and 30 min × 40.00/h', exactMicro: 37_500_000 },
    ]);
    expect((await shop.call('costs.sheet', { buildId: w01 })).labour.amountMinor).toBe(23_917);
  });

  it('shows the three views and the list price before the sale', async () => {
    await shop.call('builds.setPrice', { modelId: shop.modelId, from: '2024-07-01', priceMinor: 15_000 });
    const sheet = await shop.call('costs.sheet', { buildId: w01 });
    expect(sheet).toMatchObject({
      sale: null,
      askedMinor: 15_000,
      views: { moneyOutMinor: 4217, atOwnRateMinor: 4217 + 23_917 + 5487, inventoryValueMinor: 4217 },
      remarks: ['Some consumables are a flat amount, not what this knife really used.'],
    });
  });

  it('says what is missing', async () => {
    const sheet = await shop.call('costs.sheet', { buildId: idOf(shop.knives, 'W03') });
    expect(sheet.remarks).toEqual([
      'No material is booked on this knife yet.',
      'No hours are booked on this knife yet, so nothing can be said about the hour.',
    ]);
    await shop.call('hours.book', {
      on: '2024-06-01',
      minutes: 20,
      stageCode: 'CUT',
      workKind: null,
      shares: [{ buildId: idOf(shop.knives, 'W03') }],
      source: 'guess',
    });
    expect((await shop.call('costs.sheet', { buildId: idOf(shop.knives, 'W03') })).remarks).toEqual([
      'No material is booked on this knife yet.',
      '20 min of 20 min were entered from memory, not clocked.',
      expect.stringMatching(/^No labour rate was in force on 2024-06-01/),
      expect.stringMatching(/^No overhead rate was in force on 2024-06-01/),
    ]);
  });

  it('leaves out what was taken back', async () => {
    const drawn = await shop.call('stock.draw', {
      buildId: w02,
      itemId: idOf(shop.items, 'belt'),
      qty: PIECE / 4,
      use: 'consumable',
      on: '2024-07-20',
    });
    expect((await shop.call('costs.sheet', { buildId: w02 })).consumables).toMatchObject({
      amountMinor: 245,
      note: 'shared over the batch',
      working: [{ how: '0.25 belt of L-0005 (7 belts at 68.60)', rung: 3 }],
    });
    await shop.call('stock.reverse', { movementId: drawn.movementIds[0] ?? '', reason: 'other knife' });
    const charge = await shop.call('builds.charge', {
      buildId: w02,
      on: '2024-07-20',
      label: 'Gas',
      use: 'energy',
      amountMicro: ONE,
    });
    await shop.call('builds.reverseCharge', { chargeId: charge.id, reason: 'other knife' });
    const sheet = await shop.call('costs.sheet', { buildId: w02 });
    expect(
      [sheet.consumables, sheet.energy].map(({ amountMinor, working }) => [amountMinor, working]),
    ).toEqual([
      [0, []],
      [0, []],
    ]);
  });

  it('reckons what the sale left, to the cent of the demo workshop’s table', async () => {
    await sellW01();
    const { sale, views } = await shop.call('costs.sheet', { buildId: w01 });
    // Demo workshop, table of sales: W01 fee 5.00, contribution 102.78, 15.04 per build hour.
    expect(sale).toMatchObject({
      on: '2024-08-06',
      buyerName: 'Ottoline Fernshaw',
      priceMinor: 15_000,
      shippingMinor: 1200,
      taxMinor: 0,
      contributionMinor: 10_278,
      contributionPerHourMinor: 1504,
      // (102.78 − 54.87) / 410 × 60 = 7.0112…
      earnedPerHourMinor: 701,
      leftAtRateMinor: 10_278 - 23_917 - 5487,
      marginAtRatePpm: -1_180_617,
    });
    expect(sale?.fee).toMatchObject({
      amountMinor: 500,
      working: [{ how: '2.9 % of 162.00 and 0.30', source: { kind: 'sale' } }],
    });
    expect(sale?.postage.amountMinor).toBe(1205);
    expect(views.moneyOutMinor).toBe(4217 + 1205 + 500);
  });

  it('becomes a paper with the same figures as text', async () => {
    const file = await shop.call('costs.sheetPdf', { buildId: w01 });
    expect([file.name, file.mime]).toEqual(['Cost sheet W01.pdf', 'application/pdf']);
    const paper = shop.press.sheets.at(-1);
    expect(Buffer.from(file.base64, 'base64').toString()).toBe(JSON.stringify(paper));
    expect(paper).toMatchObject({
      size: 'Letter',
      serial: 'W01',
      workshopName: 'Sedgewarren Edge Shop',
      madeAt: '2024-12-31T12:00:00.000Z',
    });
    const rows = paper?.sections.flatMap((section) => section.rows.map((row) => [row.label, row.amount]));
    expect(rows).toEqual(
      expect.arrayContaining([
        ['Materials together', '20.98'],
        ['Consumables', '13.64'],
        ['Fuel and current', '0.75'],
        ['Packaging', '6.80'],
        ['Payment fee', '-5.00'],
        ['Contribution', '102.78'],
        ['Contribution per hour at the bench', '15.04'],
      ]),
    );
    expect(paper?.hours.rows.map((row) => [row.time, row.amount])).toEqual([
      ['6 h 50 min', '239.17'],
      ['6 h 50 min', '239.17'],
      ['', '54.87'],
    ]);
    expect(paper?.working.find((part) => part.heading === 'Steel')?.rows).toEqual([
      {
        on: '2024-07-06',
        label: 'Stainless strip 0.070 × 1.25',
        how: '8 in of L-0001 (48 in bar at 24.00)',
        exact: '4.00',
      },
    ]);
  });

  it('refuses a knife that is not in the books', async () => {
    expect(await shop.fault('costs.sheet', { buildId: 'nobody' })).toEqual({
      kind: 'missing',
      message: 'This knife is not in the books.',
    });
  });
});

describe('file names', () => {
  it('hold no sign another system could stumble over', () => {
    expect(['2024/07-0001', '..\\up', 'ä b.c', '///'].map(fileName)).toEqual([
      '2024-07-0001',
      '-up',
      'ä b.c',
      '-',
    ]);
  });
});

describe('bar lengths', () => {
  it('leave the rest of the bar on the rack', async () => {
    const lots = await shop.call('stock.lots', { itemId: idOf(shop.items, 'steel') });
    expect(lots.rows.map((lot) => [lot.qtyLeft / INCH, lot.valueLeftMicro])).toEqual([[40, 20 * ONE]]);
  });
});

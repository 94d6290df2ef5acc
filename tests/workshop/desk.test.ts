import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openRig, type Rig } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig({ now: '2024-07-11' });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

const book = (buildId: string, on: string, minutes: number, stageCode: string) =>
  rig.call('hours.book', { on, minutes, stageCode, workKind: null, shares: [{ buildId }] });

/** Finishes a knife and sells it on the day the clock stands at, without an invoice. */
async function sell(id: string): Promise<void> {
  await rig.call('builds.start', { id, on: '2024-07-08' });
  await rig.call('builds.finish', { id, on: '2024-07-10' });
  const buyer = await rig.call('selling.saveBuyer', { name: 'Garrick Stonepipple' });
  const channel = first(await rig.call('workshop.channels', {}));
  const money = { priceMinor: 15_000, shippingMinor: 1200, taxPlaceId: null };
  await rig.call('selling.sell', {
    buildId: id,
    buyerId: buyer.id,
    channelId: channel.id,
    on: '2024-07-11',
    invoice: false,
    ...money,
  });
}

describe('the bench', () => {
  it('shows a young workshop its first steps', async () => {
    const bare = await openRig();
    const day = await bare.call('bench.today', {});
    await bare.close();
    expect(day).toEqual({
      today: '2024-07-06',
      clock: null,
      clocks: [],
      waits: [],
      batches: [],
      shortFor: [],
      oilDue: [],
      suppliesDue: [],
      inWork: { rows: [], total: 0 },
      planned: { rows: [], total: 0 },
      unsold: { rows: [], total: 0 },
      low: [],
      unpaid: [],
      soldWithoutInvoice: [],
      minutesToday: 0,
      minutesThisWeek: 0,
      lately: [],
      firstSteps: ['items', 'purchase', 'model', 'build', 'hours', 'sale'].map((key) => ({
        key,
        done: false,
      })),
    });
  });

  it('shows what is on the bench, what is low, and the minutes of the day and of the week from Monday', async () => {
    const [one, two, three, four] = await shelf.plan(4);
    await book(one ?? '', '2024-07-07', 60, 'CUT');
    await book(one ?? '', '2024-07-08', 30, 'GR2');
    await book(two ?? '', '2024-07-11', 45, 'FIN');
    await rig.call('builds.start', { id: three ?? '', on: '2024-07-08' });
    await rig.call('builds.finish', { id: three ?? '', on: '2024-07-09' });
    await shelf.buy('belt', 1, 1_000_000, 9.8);
    const day = await rig.call('bench.today', {});
    const serials = (rows: readonly { readonly serial: string }[]) => rows.map((row) => row.serial);
    expect([serials(day.inWork.rows), serials(day.planned.rows), serials(day.unsold.rows)]).toEqual([
      ['W02', 'W01'],
      ['W04'],
      ['W03'],
    ]);
    expect(day.low.map((item) => [item.name, item.qtyLeft])).toEqual([['Belt 36 ceramic', 1_000_000]]);
    // 2024-07-11 is a Thursday: the Sunday before belongs to the week before.
    expect([day.minutesToday, day.minutesThisWeek]).toEqual([45, 75]);
    expect(day.lately).toEqual([
      { stageCode: 'FIN', stageName: 'Shape and finish handle', builds: [{ id: two, serial: 'W02' }] },
      { stageCode: 'GR2', stageName: 'Grind after hardening', builds: [{ id: one, serial: 'W01' }] },
      { stageCode: 'CUT', stageName: 'Cut and profile', builds: [{ id: one, serial: 'W01' }] },
    ]);
    expect(day.firstSteps.map((step) => step.done)).toEqual([true, true, true, true, true, false]);
    expect(four).not.toBe(undefined);
  });

  it('names the running clock and knives sold without an invoice', async () => {
    const [one, two] = await shelf.plan(2);
    await sell(one ?? '');
    await rig.call('hours.start', { stageCode: 'CUT', workKind: null, buildIds: [two ?? ''] });
    const day = await rig.call('bench.today', {});
    expect(day.clock?.builds.map((build) => build.serial)).toEqual(['W02']);
    expect(day.soldWithoutInvoice.map(({ serial, buyerName, on }) => [serial, buyerName, on])).toEqual([
      ['W01', 'Garrick Stonepipple', '2024-07-11'],
    ]);
  });
});

describe('a sold knife', () => {
  it('still takes its packaging, but no steel, and keeps its serial', async () => {
    const id = first(await shelf.plan());
    await shelf.buy('box', 25, 1_000_000, 170);
    await shelf.buy('walnut', 1, 1_000_000, 14);
    await sell(id);
    const draw = { buildId: id, qty: 1_000_000, on: '2024-07-11' } as const;
    const box = await rig.call('stock.draw', { ...draw, itemId: shelf.itemIds.box, use: 'packaging' });
    expect(box.valueMicro).toBe(micro(6.8));
    const wood = await rig.fault('stock.draw', { ...draw, itemId: shelf.itemIds.walnut, use: 'material' });
    expect(wood.message).toBe('W01 is sold; only packaging can still go into it.');
    const serial = await rig.fault('builds.update', {
      id,
      serial: 'X9',
      title: '',
      method: '',
      batch: '',
      note: '',
    });
    expect(serial.message).toBe('W01 is sold and stands on its papers; its serial cannot change any more.');
    const ends = [
      await rig.fault('builds.end', { id, as: 'kept', on: '2024-07-11', reason: 'x' }),
      await rig.fault('builds.reopen', { id, reason: 'x' }),
    ];
    expect(ends.map((fault) => fault.message)).toEqual([
      'W01 is sold; credit the sale first.',
      'W01 is sold; credit the sale first.',
    ]);
    const build = await rig.call('builds.get', { id });
    expect([build.state, build.sale?.buyerName, build.sale?.priceMinor, build.sale?.invoiceId]).toEqual([
      'sold',
      'Garrick Stonepipple',
      15_000,
      null,
    ]);
  });
});

describe('finding anything', () => {
  const find = async (text: string) =>
    (await rig.call('find.anything', { text })).map((hit) => [hit.kind, hit.title]);

  it('puts whole matches before beginnings and those before the rest', async () => {
    await shelf.plan(2);
    await rig.call('builds.plan', {
      modelId: shelf.modelId,
      serial: 'AW01',
      title: 'Odd one',
      on: '2024-07-06',
    });
    await rig.call('builds.plan', {
      modelId: shelf.modelId,
      serial: 'W011',
      title: 'Odd two',
      on: '2024-07-06',
    });
    expect(await find('w01')).toEqual([
      ['build', 'W01'],
      ['build', 'W011'],
      ['build', 'AW01'],
    ]);
  });

  it('finds lots by tag and heat number, items, models, suppliers, purchases and buyers', async () => {
    const line = {
      itemId: shelf.itemIds.bar,
      pieces: 1,
      qtyEach: 48 * 25_400_000,
      priceMicro: micro(24),
      heatNumber: 'HT-4471',
    };
    await rig.call('stock.buy', {
      supplierId: shelf.supplierId,
      on: '2024-07-02',
      reference: 'GB-1009',
      lines: [line],
    });
    await rig.call('selling.saveBuyer', { name: 'Greta Pottlesham', email: 'greta@example.org' });
    expect(await find('L-1')).toEqual([['lot', 'L-0001']]);
    expect(await find('l-0001')).toEqual([['lot', 'L-0001']]);
    expect(await find('4471')).toEqual([['lot', 'L-0001']]);
    expect(await find('gb-10')).toEqual([['purchase', 'Greyfen Bar & Strip']]);
    expect(await find('gre')).toEqual([
      ['buyer', 'Greta Pottlesham'],
      ['supplier', 'Greyfen Bar & Strip'],
      ['purchase', 'Greyfen Bar & Strip'],
    ]);
    expect(await find('PAR')).toEqual([['model', 'PAR']]);
    expect(await find('walnut')).toEqual([['item', 'Walnut pair']]);
  });

  it('takes percent and underscore for what they are, and nothing for nothing', async () => {
    expect([await find('%'), await find('_'), await find(''), await find('\\')]).toEqual([[], [], [], []]);
    await rig.call('stock.saveItem', {
      name: '1018 50_50 mix\\b',
      kind: 'steel',
      form: 'length',
      unit: 'in',
    });
    expect([await find('0_5'), await find('x\\b')]).toEqual([
      [['item', '1018 50_50 mix\\b']],
      [['item', '1018 50_50 mix\\b']],
    ]);
  });

  it('answers no more than it is asked for', async () => {
    await shelf.plan(9);
    expect(await rig.call('find.anything', { text: 'w0', limit: 4 })).toHaveLength(4);
  });
});

describe('what the bench says about supplies', () => {
  it('names what planned knives lack, an order that is due and oil that is past its days', async () => {
    await shelf.plan(2);
    const oil = await rig.call('stock.saveItem', {
      name: 'Quench oil',
      kind: 'oil',
      form: 'volume',
      unit: 'gal',
    });
    const gallon = 3_785_411_784;
    await rig.call('stock.buy', {
      supplierId: shelf.supplierId,
      on: '2024-07-01',
      lines: [{ itemId: oil.id, pieces: 1, qtyEach: gallon, priceMicro: 30_000_000 }],
    });
    const bath = await rig.call('baths.save', { name: 'Fast oil', itemId: oil.id, lifeDays: 2 });
    await rig.call('baths.pour', { bathId: bath.id, kind: 'fill', qty: gallon, on: '2024-07-02' });
    await rig.call('buying.order', {
      supplierId: shelf.supplierId,
      on: '2024-07-01',
      dueOn: '2024-07-05',
      lines: [{ itemId: shelf.itemIds.epoxy, pieces: 1, qtyEach: 1_000_000, priceMicro: 1 }],
    });
    const now = await rig.call('bench.today', {});
    expect(now.shortFor.map((row) => row.itemName)).toContain('Walnut pair');
    expect(now.suppliesDue.map((row) => [row.tag, row.dueOn])).toEqual([['B-0001', '2024-07-05']]);
    expect(now.oilDue.map((row) => row.name)).toEqual(['Fast oil']);
  });
});

describe('finding makings and heat treatments', () => {
  it('finds them by tag and by name', async () => {
    const [knife = ''] = await shelf.plan(1);
    await rig.call('builds.start', { id: knife, on: '2024-07-08' });
    const making = await rig.call('makings.start', {
      title: 'Random pattern billet',
      kind: 'billet',
      on: '2024-07-08',
    });
    const heat = await rig.call('heats.save', {
      on: '2024-07-10',
      batch: 'B77',
      buildIds: [knife],
      steps: [{ kind: 'soak', tempMilliC: 815_000, minutes: 10 }],
    });
    const found = async (text: string) =>
      (await rig.call('find.anything', { text })).map((hit) => [hit.kind, hit.id]);
    expect(await found('M-1')).toContainEqual(['making', making.id]);
    expect(await found('random pattern')).toEqual([['making', making.id]]);
    expect(await found('h1')).toContainEqual(['heat', heat.id]);
    expect(await found('B77')).toContainEqual(['heat', heat.id]);
  });
});

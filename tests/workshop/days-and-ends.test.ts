/** What is refused everywhere alike: a day that has not come, and taking back from a knife that has ended. Invented data. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { CoreEndpointName } from '../../electron/api/contract.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { wholeBooks } from './rig.ts';
import { idOf, INCH, ONE, openShop, pack, PIECE, saleOf, type Shop } from './shop.ts';

const ON = '2024-07-10';
const AHEAD = '2024-07-11';
const LATER = '2024-08-06';
const LITRE = toBase(1, 'l');
const KILO = toBase(1, 'kg');

let shop: Shop;
let knife: string;
let lotId: string;
let bathId: string;
let gas: string;
let belt: string;

/** Oil in a tank, gas, belts that fall by opening and a price of current, all since long. */
beforeEach(async () => {
  shop = await openShop({ now: ON });
  const on = '2024-07-02';
  const make = async (input: Parameters<typeof shop.call<'stock.saveItem'>>[1]): Promise<string> =>
    (await shop.call('stock.saveItem', input)).id;
  const oil = await make({ name: 'Quench oil', kind: 'oil', form: 'volume', unit: 'l' });
  gas = await make({ name: 'Propane', kind: 'fuel', form: 'weight', unit: 'kg' });
  belt = await make({ name: 'Belt 60', kind: 'belt', form: 'piece', unit: 'piece', consumedBy: 'opening' });
  const line = (itemId: string, qtyEach: number) => ({ itemId, pieces: 1, qtyEach, priceMicro: 100 * ONE });
  await shop.call('stock.buy', {
    supplierId: shop.supplierId,
    on,
    lines: [line(oil, 10 * LITRE), line(gas, 10 * KILO), line(belt, 10 * PIECE)],
  });
  ({ id: bathId } = await shop.call('baths.save', { name: 'Tank', itemId: oil, lifeQuenches: 10 }));
  await shop.call('baths.pour', { bathId, kind: 'fill', qty: 5 * LITRE, on });
  await shop.call('fires.setTariff', { from: on, perKwhMicro: 172_500 });
  knife = idOf(shop.knives, 'W01');
  lotId = (await shop.call('stock.lots', { itemId: idOf(shop.items, 'steel') })).rows[0]?.id ?? '';
});
afterEach(async () => {
  expect(shop.log).toEqual([]);
  await shop.close();
});

const nothingChanges = async (what: () => Promise<unknown>): Promise<void> => {
  const before = wholeBooks(shop.db);
  await what();
  expect(wholeBooks(shop.db)).toEqual(before);
};

/** Everything that moves stock, or books what a fire took, on the same day. */
const bookings = async (on: string): Promise<readonly (readonly [CoreEndpointName, object])[]> => {
  const { id: makingId } = await shop.call('makings.start', { title: 'PW-01', kind: 'billet', on: ON });
  const steel = idOf(shop.items, 'steel');
  const walnut = idOf(shop.items, 'walnut');
  const why = { reason: 'shelf counted' };
  const shares = [{ buildId: knife }];
  const { parts } = await shop.call('builds.model', { id: shop.modelId });
  const cut = { key: 'a', buildId: knife, length: 8 * INCH };
  const bar = { lotId, before: 48 * INCH, cuts: [{ buildId: knife, length: 8 * INCH }] };
  return [
    [
      'stock.buy',
      {
        supplierId: shop.supplierId,
        on,
        lines: [{ itemId: walnut, pieces: 1, qtyEach: PIECE, priceMicro: ONE }],
      },
    ],
    ['stock.draw', { buildId: knife, itemId: walnut, qty: PIECE, use: 'material', on }],
    ['stock.cut', { lotId, blankLength: cut.length, kerf: 0, sharing: 'by-length', buildIds: [knife], on }],
    ['stock.takeOut', { lotId, kind: 'sample', qty: INCH, on, ...why }],
    ['stock.count', { lotId, countedQty: 40 * INCH, on, ...why }],
    ['builds.takeUsual', { id: knife, on, parts: parts.map((part) => ({ partId: part.id })), flatIds: [] }],
    ['makings.take', { makingId, itemId: steel, qty: INCH, on }],
    ['cutting.book', { itemId: steel, on, kerf: 0, bars: [bar] }],
    ['baths.pour', { bathId, kind: 'topUp', qty: LITRE, on }],
    ['baths.note', { bathId, kind: 'filter', on }],
    ['baths.quench', { bathId, on, buildIds: [knife] }],
    ['baths.change', { bathId, on, ...why }],
    ['fires.gas', { on, itemId: gas, how: 'weight', beforeNg: 9 * KILO, afterNg: 8 * KILO, shares }],
    [
      'fires.gas',
      { on, itemId: gas, how: 'weight', beforeNg: 9 * KILO, afterNg: 8 * KILO, makingId, shares: [] },
    ],
    ['fires.current', { on, wattHours: 1000, shares: [], makingId }],
    ['consumables.open', { itemId: belt, on, shares }],
    ['consumables.count', { itemId: belt, countedQty: PIECE, on, from: ON, settle: 'overhead', ...why }],
  ];
};

describe('a day that has not come', () => {
  it('is refused wherever something moves, and goes in once it has come', async () => {
    const ahead = await bookings(AHEAD);
    await nothingChanges(async () => {
      for (const [name, input] of ahead) {
        const { kind, message, field } = await shop.fault(name, input);
        expect([name, kind, message, field]).toEqual([
          name,
          'invalid',
          'This day is still to come. Write the day it was done.',
          'on',
        ]);
      }
    });
    // Those that do not stand in each other’s way go in, so it was the day alone.
    shop.clock.set(AHEAD);
    for (const [name, input] of ahead.slice(0, 5)) {
      expect((await shop.core.call(name, input)).ok, name).toBe(true);
    }
  });
});

/** Something on the knife in each of the ways a knife is charged, with what takes it back. */
async function laden(): Promise<readonly (readonly [CoreEndpointName, object])[]> {
  const shares = [{ buildId: knife }];
  const reason = 'slip';
  const drawn = await shop.call('stock.draw', {
    buildId: knife,
    itemId: idOf(shop.items, 'walnut'),
    qty: PIECE,
    use: 'material',
    on: ON,
  });
  const charge = await shop.call('builds.charge', {
    buildId: knife,
    on: ON,
    label: 'Gloves',
    use: 'consumable',
    amountMicro: ONE,
  });
  const quenched = await shop.call('baths.quench', { bathId, on: ON, buildIds: [knife] });
  const weights = { how: 'weight', beforeNg: 9 * KILO, afterNg: 8 * KILO } as const;
  const burnt = await shop.call('fires.gas', { on: ON, itemId: gas, ...weights, shares });
  const current = await shop.call('fires.current', { on: ON, wattHours: 1000, shares });
  const opened = await shop.call('consumables.open', { itemId: belt, on: ON, shares });
  await shop.call('builds.finish', { id: knife, on: ON });
  return [
    ['stock.reverse', { movementId: drawn.movementIds[0], reason }],
    ['builds.reverseCharge', { chargeId: charge.id, reason }],
    ['baths.reverse', { eventId: quenched.events[0]?.id, reason }],
    ['fires.takeBack', { burnId: burnt.id, reason }],
    ['fires.takeBack', { burnId: current.id, reason }],
    ['consumables.takeBack', { openingId: opened.id, reason }],
    ['consumables.share', { openingId: opened.id, shares: [{ buildId: idOf(shop.knives, 'W02') }] }],
  ];
}

const ends = [
  ['sold', 'W01 is sold, so what it cost stays as it is. If it comes back, take this back then.'],
  ['scrapped', 'W01 is scrapped, so what it cost stays as it is. Take it back to the bench first.'],
  ['kept', 'W01 is kept out of sale, so what it cost stays as it is. Take it back to the bench first.'],
] as const;

describe('a knife that has ended', () => {
  it.each(ends)('being %s, keeps what it was charged, whatever it was charged by', async (end, sentence) => {
    const backs = await laden();
    shop.clock.set(LATER);
    if (end === 'sold') await shop.call('selling.sell', saleOf(shop, knife, { on: LATER }));
    else await shop.call('builds.end', { id: knife, as: end, on: LATER, reason: 'trial' });
    await nothingChanges(async () => {
      for (const [name, input] of backs)
        expect([name, (await shop.fault(name, input)).message]).toEqual([name, sentence]);
    });
    if (end === 'sold') return;
    await shop.call('builds.reopen', { id: knife, reason: 'after all' });
    // The last two stand for the same opening.
    for (const [name, input] of backs.slice(0, -1))
      expect((await shop.core.call(name, input)).ok, name).toBe(true);
    expect((await shop.call('builds.get', { id: knife })).costMicro).toBe(0);
  });

  it('being sold, still gives its packaging back, as it still takes some', async () => {
    await laden();
    shop.clock.set(LATER);
    await shop.call('selling.sell', saleOf(shop, knife, { on: LATER }));
    await pack(shop, knife);
    const { rows } = await shop.call('stock.movements', { itemId: idOf(shop.items, 'box') });
    const packed = rows.find((row) => row.kind === 'draw');
    const back = await shop.call('stock.reverse', { movementId: packed?.id ?? '', reason: 'smaller box' });
    expect(back.qty).toBe(PIECE);
  });
});

describe('a making with a clock on it', () => {
  it('does not end before the clock is stopped, whosever it is, and then carries its minutes', async () => {
    const { id: makingId } = await shop.call('makings.start', { title: 'PW-01', kind: 'billet', on: ON });
    const helper = await shop.call('hours.savePerson', { name: 'Pim Thornapple' });
    const work = { stageCode: 'GR2', workKind: null, buildIds: [], makingId, personId: helper.id };
    await shop.call('hours.start', work);
    shop.clock.set(`${ON}T13:00:00.000Z`);
    const scrap = { makingId, on: ON, reason: 'a weld opened' };
    await nothingChanges(async () => {
      expect((await shop.fault('makings.scrap', scrap)).message).toBe(
        'The clock of Pim Thornapple is running on M-0001. Stop it first, so that its minutes are booked.',
      );
      const outputs = [{ itemId: idOf(shop.items, 'walnut'), qty: PIECE }];
      expect((await shop.fault('makings.finish', { makingId, on: ON, outputs })).message).toContain(
        'is running on M-0001',
      );
    });
    await shop.call('hours.stop', { personId: helper.id });
    const lost = await shop.call('makings.scrap', scrap);
    expect([lost.state, lost.minutes]).toEqual(['scrapped', 60]);
  });
});

describe('an order of which part came', () => {
  const rest = async (
    itemId: string,
    ordered: readonly (readonly [number, number])[],
    came: readonly (readonly [number, number])[],
  ) => {
    const lines = (list: typeof ordered) =>
      list.map(([pieces, qtyEach]) => ({ itemId, pieces, qtyEach, priceMicro: pieces * 30 * ONE }));
    const { id } = await shop.call('buying.order', {
      supplierId: shop.supplierId,
      on: ON,
      lines: lines(ordered),
    });
    await shop.call('buying.receive', { orderId: id, on: ON, keepRest: true, lines: lines(came) });
    const open = await shop.call('buying.orders', { states: ['open'] });
    return open.flatMap((each) => each.lines.map((line) => [line.pieces, line.qtyEach, line.priceMicro]));
  };

  it('keeps open what is missing by weight, in whole fills where it can, at its part of the price', async () => {
    expect(await rest(gas, [[1, 5 * KILO]], [[1, 2 * KILO]])).toEqual([[1, 3 * KILO, 18 * ONE]]);
  });

  it('counts fills where whole ones are missing, and lets what came in other sizes add up', async () => {
    const ordered = [
      [3, 5 * KILO],
      [1, KILO],
    ] as const;
    // 1 kg stands for the small one, 2 × 2.5 kg for one of the three.
    const came = [
      [1, KILO],
      [2, 2.5 * KILO],
    ] as const;
    expect(await rest(gas, ordered, came)).toEqual([[2, 5 * KILO, 60 * ONE]]);
  });

  it('still counts bars as bars, whatever their length', async () => {
    const steel = idOf(shop.items, 'steel');
    expect(await rest(steel, [[2, 48 * INCH]], [[1, 36 * INCH]])).toEqual([[1, 48 * INCH, 30 * ONE]]);
  });
});

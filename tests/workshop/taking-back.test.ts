/** What a hostile bookkeeper tries: taking one half back, counting after it, finding more than there was. Invented data. */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Output } from '../../electron/api/contract.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { stockAt } from '../../electron/workshop/stock/at.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const ON = '2024-07-06';
const PIECE = 1_000_000;
const inches = (n: number): number => toBase(n, 'in');

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig();
  shelf = await stockShelf(rig);
});
afterEach(async () => {
  expect(rig.log).toEqual([]);
  await rig.close();
});

type Move = Output<'stock.movements'>['rows'][number];

/** Movements of an item in the order they were written. */
const moves = async (itemId: string): Promise<readonly Move[]> =>
  (await rig.call('stock.movements', { itemId })).rows.toReversed();

const nothingChanges = async (what: () => Promise<unknown>): Promise<void> => {
  const before = wholeBooks(rig.db);
  await what();
  expect(wholeBooks(rig.db)).toEqual(before);
};

describe('a count shared over knives', () => {
  let knife = '';
  const count = (countedQty: number) => ({
    itemId: shelf.itemIds.belt,
    countedQty,
    on: ON,
    from: ON,
    settle: 'builds' as const,
    reason: 'shelf counted',
  });
  beforeEach(async () => {
    await shelf.buy('belt', 10, PIECE, 100);
    knife = first(await shelf.plan(1));
    const used = { buildId: knife, itemId: shelf.itemIds.belt, qty: PIECE, use: 'consumable' as const };
    await rig.call('stock.draw', { ...used, on: ON });
  });

  it('does not come back on the rack alone while its knives pay for it; a new count puts it right', async () => {
    await rig.call('consumables.count', count(5 * PIECE));
    const counted = (await moves(shelf.itemIds.belt)).find((move) => move.kind === 'count');
    await nothingChanges(async () => {
      const fault = await rig.fault('stock.reverse', { movementId: counted?.id, reason: 'slip' });
      expect(fault.message).toBe('This count was shared over knives. Count again instead.');
    });
    expect((await rig.call('builds.get', { id: knife })).costMicro).toBe(micro(50));
    await rig.call('consumables.count', count(9 * PIECE));
    expect((await rig.call('builds.get', { id: knife })).costMicro).toBe(micro(10));
    expect((await rig.call('stock.item', { id: shelf.itemIds.belt })).valueLeftMicro).toBe(micro(90));
  });

  it('never gives a knife back more than it carries of the thing', async () => {
    await nothingChanges(async () => {
      const fault = await rig.fault('consumables.count', count(11 * PIECE));
      expect([fault.kind, fault.message]).toEqual([
        'refused',
        'More was found than W01 carries of Belt 36 ceramic, which is $10.00. Begin the period earlier, or book the difference to overhead.',
      ]);
    });
    await rig.call('consumables.count', count(10 * PIECE));
    expect((await rig.call('builds.get', { id: knife })).costMicro).toBe(0);
    const draw = (await moves(shelf.itemIds.belt)).find((move) => move.kind === 'draw');
    const back = { movementId: draw?.id ?? '', reason: 'slip' };
    await nothingChanges(async () => {
      expect((await rig.fault('stock.reverse', back)).message).toContain('Count again first');
    });
    await rig.call('consumables.count', count(9 * PIECE));
    await rig.call('stock.reverse', back);
  });
});

describe('a count that gave knives back what was found', () => {
  const settled = { on: ON, from: ON, settle: 'builds', reason: 'found' } as const;

  it('keeps an opening where it is, taken back or shared anew', async () => {
    const belt = { name: 'Belt 60', kind: 'belt', form: 'piece', unit: 'piece' } as const;
    const { id: itemId } = await rig.call('stock.saveItem', { ...belt, consumedBy: 'opening' });
    const line = { itemId, pieces: 3, qtyEach: PIECE, priceMicro: micro(30) };
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: ON, lines: [line] });
    const [a = '', b = ''] = await shelf.plan(2);
    const opened = await rig.call('consumables.open', { itemId, on: ON, shares: [{ buildId: a }] });
    await rig.call('consumables.count', { ...settled, itemId, countedQty: 3 * PIECE });
    await nothingChanges(async () => {
      const back = await rig.fault('consumables.takeBack', { openingId: opened.id, reason: 'slip' });
      expect(back.message).toContain('A count gave W01 part of this back already');
      const share = { openingId: opened.id, shares: [{ buildId: b }] };
      expect((await rig.fault('consumables.share', share)).message).toContain('Count again first');
    });
  });

  it('keeps a quench where it is', async () => {
    const oil = { name: 'Oil', kind: 'oil', form: 'volume', unit: 'l' } as const;
    const { id: itemId } = await rig.call('stock.saveItem', oil);
    const line = { itemId, pieces: 1, qtyEach: toBase(10, 'l'), priceMicro: micro(100) };
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: ON, lines: [line] });
    const { id: bathId } = await rig.call('baths.save', { name: 'Tank', itemId, lifeQuenches: 10 });
    await rig.call('baths.pour', { bathId, kind: 'fill', qty: toBase(5, 'l'), on: ON });
    const [knife = ''] = await shelf.plan(1);
    const { events } = await rig.call('baths.quench', { bathId, on: ON, buildIds: [knife] });
    const hour = { on: ON, minutes: 60, stageCode: 'GR2', workKind: null, shares: [{ buildId: knife }] };
    await rig.call('hours.book', hour);
    await rig.call('consumables.count', { ...settled, itemId, countedQty: toBase(11, 'l') / 2 });
    expect((await rig.call('builds.get', { id: knife })).costMicro).toBe(0);
    await nothingChanges(async () => {
      const back = await rig.fault('baths.reverse', { eventId: first(events).id, reason: 'slip' });
      expect(back.message).toContain('A count gave W01 part of this back already');
    });
  });
});

it('what is taken back goes from the day it stood on, but not where a count since put back what was used', async () => {
  const [lotId = ''] = await shelf.buy('walnut', 4, PIECE, 56);
  const [knife = ''] = await shelf.plan(1);
  const itemId = shelf.itemIds.walnut;
  const take = { buildId: knife, itemId, qty: PIECE, use: 'material', on: '2024-12-20' } as const;
  const out = { lotId, kind: 'personal', qty: PIECE, reason: 'own block', on: '2024-12-28' } as const;
  rig.clock.set('2025-01-04');
  const drawn = first((await rig.call('stock.draw', take)).movementIds);
  const personal = await rig.call('stock.takeOut', out);
  const atYearsEnd = () => stockAt(rig.db, '2024-12-31');
  expect(atYearsEnd()).toMatchObject({ materialsMicro: micro(28), inWorkMicro: micro(14) });
  const back = (movementId: string) => rig.call('stock.reverse', { movementId, reason: 'slip' });
  expect([(await back(drawn)).on, (await back(personal.id)).on]).toEqual(['2024-12-20', '2024-12-28']);
  expect(atYearsEnd()).toMatchObject({ materialsMicro: micro(56), inWorkMicro: 0 });
  // 4, counted as 6, 5 used, counted as 3 again: without the first count the shelf had held 4 - 5 in between.
  const count = (pieces: number, on: string) =>
    rig.call('stock.count', { lotId, countedQty: pieces * PIECE, reason: 'seen', on });
  const found = await count(6, '2024-12-21');
  const late = { ...take, on: '2024-12-20', qty: 5 * PIECE } as const;
  expect((await rig.fault('stock.draw', late)).message).toBe(
    'On 2024-12-20 or a day after it the books had only 4 pairs of Walnut pair; what lies there now was found or came back later. Take less, or write the day of that.',
  );
  await rig.call('stock.draw', { ...take, qty: 5 * PIECE, on: '2024-12-22' });
  await count(3, '2025-01-04');
  expect((await back(found?.id ?? '')).on).toBe('2025-01-04');
});

it('a bar that was found again later is not cut on a day it was not there, by any way of cutting', async () => {
  const bar = first(await shelf.buy('bar', 1, inches(48), 48));
  const [knife = ''] = await shelf.plan(1);
  rig.clock.set('2025-01-04');
  const lost = { lotId: bar, kind: 'scrap', qty: inches(44), reason: 'not found', on: '2024-12-20' } as const;
  await rig.call('stock.takeOut', lost);
  await rig.call('stock.count', {
    lotId: bar,
    countedQty: inches(48),
    reason: 'behind the forge',
    on: '2024-12-28',
  });
  const { parts } = await rig.call('builds.model', { id: shelf.modelId });
  const on = '2024-12-22';
  const cut = { lotId: bar, blankLength: inches(8), kerf: 0, sharing: 'by-length', buildIds: [knife], on };
  const cuts = [{ buildId: knife, length: inches(8) }];
  const bars = [{ lotId: bar, before: inches(48), cuts }];
  const usual = {
    id: knife,
    parts: [{ partId: parts.find((part) => part.label === 'Steel')?.id, lotId: bar }],
  };
  const had = /On 2024-12-22 or a day after it the books had only 4 in of L-0001/;
  expect((await rig.fault('stock.cut', cut)).message).toMatch(had);
  expect((await rig.fault('cutting.book', { itemId: shelf.itemIds.bar, on, kerf: 0, bars })).message).toMatch(
    had,
  );
  expect((await rig.fault('builds.takeUsual', { ...usual, on })).message).toMatch(had);
  await rig.call('stock.cut', { ...cut, sharing: 'by-length', on: '2024-12-28' });
});

describe('what was cut off a bar and taken back', () => {
  /** Cuts spare blanks off a bar of 48 in and answers both halves of each, in order. */
  async function spares(price: number, lengths: readonly number[]) {
    const lotId = first(await shelf.buy('bar', 1, inches(48), price));
    const cuts = lengths.map((length) => ({ buildId: null, length: inches(length) }));
    const bars = [{ lotId, before: inches(48), cuts }];
    await rig.call('cutting.book', { itemId: shelf.itemIds.bar, on: ON, kerf: 0, bars });
    const halves = (await moves(shelf.itemIds.bar)).filter((move) => move.kind === 'split');
    return { left: halves.filter((half) => half.qty < 0), came: halves.filter((half) => half.qty > 0) };
  }

  it.each([
    ['of the same worth', 48, [10, 10, 10]],
    ['worth nothing, of other sizes', 0, [10, 20, 5]],
  ] as const)('is the very piece, among others %s, from either half', async (_, price, lengths) => {
    const { left, came } = await spares(price, lengths);
    for (const [at, half] of [left[1], came[2]].entries()) {
      await rig.call('stock.reverse', { movementId: half?.id ?? '', reason: 'slip' });
      const back = (await moves(shelf.itemIds.bar)).filter((move) => move.reversesId !== null).slice(-2);
      expect(back.map((move) => move.reversesId).sort()).toEqual([left[at + 1]?.id, came[at + 1]?.id].sort());
      expect((await rig.call('stock.item', { id: shelf.itemIds.bar })).qtyLeft).toBe(inches(48));
    }
  });

  it('leaves a bar that can be counted', async () => {
    const { left } = await spares(48, [10]);
    await rig.call('stock.reverse', { movementId: first(left).id, reason: 'slip' });
    const about = { itemId: shelf.itemIds.bar, on: ON, from: ON, settle: 'overhead', reason: 'x' } as const;
    const counted = await rig.call('consumables.count', { ...about, countedQty: inches(47) });
    expect([counted.differenceQty, counted.differenceMicro]).toEqual([-inches(1), -micro(1)]);
  });
});

describe('more than there was', () => {
  it('found by a count of what a making brought out carries none of its hours twice', async () => {
    const steel = { name: 'Billet', kind: 'steel', form: 'weight', unit: 'g' } as const;
    const { id: itemId } = await rig.call('stock.saveItem', steel);
    const { id: makingId } = await rig.call('makings.start', { title: 'PW-01', kind: 'billet', on: ON });
    const work = { on: ON, stageCode: 'GR2', workKind: null, shares: [] };
    await rig.call('hours.book', { ...work, minutes: 100, makingId });
    const outputs = [{ itemId, qty: toBase(100, 'g') }];
    const done = await rig.call('makings.finish', { makingId, on: ON, outputs });
    const lotId = first(done.outputs).lot.id;
    await rig.call('stock.count', { lotId, countedQty: toBase(150, 'g'), reason: 'weighed', on: ON });
    const [a = '', b = ''] = await shelf.plan(2);
    for (const buildId of [a, b]) {
      const draw = { buildId, itemId, qty: toBase(75, 'g'), use: 'material' as const, on: ON };
      await rig.call('stock.draw', draw);
    }
    const { taken } = first((await rig.call('makings.get', { id: makingId })).outputs);
    expect(taken.map((one) => one.minutes)).toEqual([75, 25]);
  });
});

describe('a sheet made here and sawn into pairs', () => {
  it('gives its hours on with the pairs, though they are counted another way', async () => {
    const handle = { kind: 'handle', pieceWord: 'sheet' } as const;
    const sheet = await rig.call('stock.saveItem', { ...handle, name: 'Slab', form: 'area', unit: 'sqin' });
    const pair = await rig.call('stock.saveItem', { ...handle, name: 'Scales', form: 'pair', unit: 'pair' });
    const { id: makingId } = await rig.call('makings.start', {
      title: 'Slab',
      kind: 'scales',
      on: ON,
      shareKey: 'equal',
    });
    const work = { on: ON, stageCode: 'GR2', workKind: null, shares: [] };
    await rig.call('hours.book', { ...work, minutes: 60, makingId });
    await rig.call('makings.charge', { makingId, on: ON, label: 'Resin', amountMicro: micro(8) });
    const size = { lengthNm: toBase(100, 'mm'), widthNm: toBase(100, 'mm') };
    const outputs = [{ itemId: sheet.id, qty: (size.lengthNm * size.widthNm) / 1_000_000 }];
    const done = await rig.call('makings.finish', { makingId, on: ON, outputs });
    const lotId = first(done.outputs).lot.id;
    await rig.call('cutting.sheetSize', { lotId, ...size, on: ON });
    const scale = { buildId: null, lengthNm: size.lengthNm, widthNm: toBase(24, 'mm') };
    const pieces = [0, 25, 50, 75].map((y) => ({ ...scale, x: 0, y: toBase(y, 'mm') }));
    const sheets = [{ lotId, ...size, pieces }];
    const saw = { itemId: sheet.id, intoItemId: pair.id, kerf: toBase(1, 'mm'), sheets, on: ON };
    await rig.call('cutting.bookSheets', saw);
    for (const buildId of await shelf.plan(2)) {
      const draw = { buildId, itemId: pair.id, qty: PIECE, use: 'material' as const, on: ON };
      await rig.call('stock.draw', draw);
    }
    const { lot, taken } = first((await rig.call('makings.get', { id: makingId })).outputs);
    expect(taken.map((one) => [one.minutes, one.qty])).toEqual([
      [30, lot.qtyReceived / 2],
      [30, lot.qtyReceived / 2],
    ]);
  });
});

describe('a crumb of gas too small for every knife', () => {
  it('is burnt and taken back without a millionth lost', async () => {
    const gas = { name: 'Propane', kind: 'fuel', form: 'weight', unit: 'g' } as const;
    const { id: itemId } = await rig.call('stock.saveItem', gas);
    const line = { itemId, pieces: 1, qtyEach: 1, priceMicro: 3 };
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: ON, lines: [line] });
    const shares = (await shelf.plan(2)).map((buildId) => ({ buildId }));
    const burn = await rig.call('fires.gas', {
      itemId,
      on: ON,
      how: 'weight',
      beforeNg: 2,
      afterNg: 1,
      shares,
    });
    expect(sumOf(burn.builds, (build) => build.amountMicro)).toBe(3);
    await rig.call('fires.takeBack', { burnId: burn.id, reason: 'slip' });
    expect((await rig.call('stock.item', { id: itemId })).valueLeftMicro).toBe(3);
  });
});

describe('a change of oil taken back', () => {
  it('does not pour one oil into a tank that was written down for another since, or put away', async () => {
    const save = async (name: string): Promise<string> => {
      const { id } = await rig.call('stock.saveItem', { name, kind: 'oil', form: 'volume', unit: 'l' });
      return id;
    };
    const fast = await save('Fast oil');
    const slow = await save('Slow oil');
    const line = { itemId: fast, pieces: 1, qtyEach: toBase(10, 'l'), priceMicro: micro(100) };
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: ON, lines: [line] });
    const tank = { name: 'Tank', lifeQuenches: 10 };
    const { id } = await rig.call('baths.save', { ...tank, itemId: fast });
    await rig.call('baths.pour', { bathId: id, kind: 'fill', qty: toBase(5, 'l'), on: ON });
    const { events } = await rig.call('baths.change', { bathId: id, on: ON, reason: 'old' });
    const back = { eventId: first(events).id, reason: 'slip' };
    await rig.call('baths.save', { ...tank, id, itemId: fast, archived: true });
    expect((await rig.fault('baths.reverse', back)).message).toContain('Tank is put away');
    await rig.call('baths.save', { ...tank, id, itemId: slow });
    expect((await rig.fault('baths.reverse', back)).message).toBe(
      'Fast oil was in the tank then, and Tank is written down for Slow oil now. Change that back first.',
    );
    await rig.call('baths.save', { ...tank, id, itemId: fast });
    expect((await rig.call('baths.reverse', back)).valueMicro).toBe(micro(50));
  });
});

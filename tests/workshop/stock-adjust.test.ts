import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { toBase } from '../../electron/domain/quantity.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, micro, type Shelf, stockShelf } from './shelf.ts';

const inch = (n: number): number => n * toBase(1, 'in');
const BAR = inch(48);

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  rig = await openRig({ now: '2024-07-20' });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

describe('taking out, counting and taking back', () => {
  it('takes stock out with a reason and its share of value', async () => {
    const lotId = first(await shelf.buy('sheet', 1, 144 * toBase(1, 'sqin'), 46));
    const out = await rig.call('stock.takeOut', {
      lotId,
      kind: 'sample',
      qty: 36 * toBase(1, 'sqin'),
      reason: 'colour sample',
      on: '2024-07-08',
    });
    expect(out).toEqual({
      id: out.id,
      seq: 2,
      on: '2024-07-08',
      kind: 'sample',
      lotId,
      lotTag: 'L-0001',
      itemId: shelf.itemIds.sheet,
      itemName: 'Laminate sheet',
      form: 'area',
      unit: 'sqin',
      pieceWord: 'sheet',
      qty: -36 * toBase(1, 'sqin'),
      valueMicro: -micro(11.5),
      use: null,
      stageCode: null,
      buildId: null,
      buildSerial: null,
      netQty: null,
      reason: 'colour sample',
      reversesId: null,
      reversedById: null,
      makingId: null,
      makingTag: null,
      openingId: null,
      rung: null,
    });
  });

  it('books what a count finds: missing stock at its value now, surplus at what the lot cost', async () => {
    const lotId = first(await shelf.buy('epoxy', 1, toBase(16, 'floz'), 28.16));
    const count = (floz: number) =>
      rig.call('stock.count', {
        lotId,
        countedQty: toBase(floz, 'floz'),
        reason: 'shelf count',
        on: '2024-07-09',
      });
    const less = await count(12);
    const more = await count(14);
    expect([less?.valueMicro, more?.valueMicro, await count(14)]).toEqual([-micro(7.04), micro(3.52), null]);
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro]).toEqual([toBase(14, 'floz'), micro(24.64)]);
    const below = await rig.fault('stock.count', { lotId, countedQty: -1, reason: 'x', on: '2024-07-09' });
    expect(below).toEqual({
      kind: 'invalid',
      field: 'countedQty',
      message: 'A quantity cannot be below zero.',
    });
  });

  it('takes a draw back exactly, once, and never takes a taking back', async () => {
    const lotId = first(await shelf.buy('pins', 1, micro(118), 118));
    const knife = first(await shelf.plan());
    const drawn = await rig.call('stock.draw', {
      buildId: knife,
      itemId: shelf.itemIds.pins,
      qty: micro(1.2),
      use: 'material',
      on: '2024-07-20',
    });
    const movementId = first(drawn.movementIds);
    rig.clock.set('2024-07-06');
    const back = await rig.call('stock.reverse', { movementId, reason: 'wrong knife' });
    // The clock stands before the draw's own day; a correction never counts before what it corrects.
    expect([back.on, back.qty, back.valueMicro, back.reversesId]).toEqual([
      '2024-07-20',
      micro(1.2),
      micro(1.2),
      movementId,
    ]);
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro, lot.builds]).toEqual([micro(118), micro(118), []]);
    expect((await rig.call('builds.get', { id: knife })).costMicro).toBe(0);
    const before = wholeBooks(rig.db);
    const twice = await rig.fault('stock.reverse', { movementId, reason: 'again' });
    const chain = await rig.fault('stock.reverse', { movementId: back.id, reason: 'again' });
    const unknown = await rig.fault('stock.reverse', { movementId: 'gone', reason: 'again' });
    expect([twice.message, chain.message, unknown.kind]).toEqual([
      'This movement was taken back already.',
      'This movement itself takes another one back. Enter the stock again instead.',
      'missing',
    ]);
    expect(wholeBooks(rig.db)).toEqual(before);
  });

  it('does not take a receipt back while a knife has some of it, even when a count made the lot look whole', async () => {
    const lotId = first(await shelf.buy('walnut', 8, 1_000_000, 112));
    const knife = first(await shelf.plan());
    const part = { buildId: knife, itemId: shelf.itemIds.walnut, qty: 1_000_000 };
    await rig.call('stock.draw', { ...part, use: 'material', on: '2024-07-07' });
    await rig.call('stock.count', { lotId, countedQty: 8_000_000, reason: 'found', on: '2024-07-07' });
    const { movements } = await rig.call('stock.lot', { id: lotId });
    const receipt = movements.find((movement) => movement.kind === 'receipt');
    const fault = await rig.fault('stock.reverse', { movementId: receipt?.id, reason: 'not delivered' });
    expect(fault.message).toBe(
      'Some of L-0001 was used or counted since it came in. Take those movements back first.',
    );
  });

  it('counts nothing on a day before something else was taken, which would be found again', async () => {
    const lotId = first(await shelf.buy('walnut', 8, 1_000_000, 112));
    const part = { buildId: first(await shelf.plan()), itemId: shelf.itemIds.walnut, qty: 1_000_000 };
    const drawn = await rig.call('stock.draw', { ...part, use: 'material', on: '2024-07-10' });
    const counted = { lotId, countedQty: 8_000_000, reason: 'count', on: '2024-07-09' };
    expect(await rig.fault('stock.count', counted)).toEqual({
      kind: 'refused',
      field: 'on',
      message:
        'L-0001 was used on 2024-07-10, after 2024-07-09. Count it as it lies there now, with a day from 2024-07-10 on.',
    });
    await rig.call('stock.reverse', { movementId: first(drawn.movementIds), reason: 'slip' });
    expect(await rig.call('stock.count', counted)).toBeNull();
  });

  it('takes a receipt back only while nothing of it was used', async () => {
    const lotId = first(await shelf.buy('walnut', 8, 1_000_000, 112));
    const [receipt] = (await rig.call('stock.lot', { id: lotId })).movements;
    const out = await rig.call('stock.takeOut', {
      lotId,
      kind: 'scrap',
      qty: 1_000_000,
      reason: 'split',
      on: '2024-07-08',
    });
    const used = await rig.fault('stock.reverse', { movementId: receipt?.id, reason: 'x' });
    expect(used.message).toBe(
      'Some of L-0001 was used or counted since it came in. Take those movements back first.',
    );
    await rig.call('stock.reverse', { movementId: out.id, reason: 'it was not split' });
    await rig.call('stock.reverse', { movementId: receipt?.id ?? '', reason: 'sent to the wrong place' });
    const lot = await rig.call('stock.lot', { id: lotId });
    expect([lot.qtyLeft, lot.valueLeftMicro, lot.movements.map((m) => m.kind)]).toEqual([
      0,
      0,
      ['reversal', 'reversal', 'scrap', 'receipt'],
    ]);
    const found = await rig.fault('stock.count', {
      lotId,
      countedQty: 1,
      reason: 'found one',
      on: '2024-07-09',
    });
    expect(found.message).toBe('The purchase of L-0001 was taken back. Enter a new purchase instead.');
  });

  it('does not take a surplus back that was used since', async () => {
    const lotId = first(await shelf.buy('belt', 1, 1_000_000, 10));
    const surplus = await rig.call('stock.count', {
      lotId,
      countedQty: 2_000_000,
      reason: 'one more',
      on: '2024-07-08',
    });
    await rig.call('stock.takeOut', {
      lotId,
      kind: 'scrap',
      qty: 1_500_000,
      reason: 'torn',
      on: '2024-07-08',
    });
    const fault = await rig.fault('stock.reverse', { movementId: surplus?.id, reason: 'x' });
    expect(fault.message).toBe(
      'Too much of L-0001 was used since. Take the later movements back first, or count the lot.',
    );
  });

  it('changes where a lot lies and keeps its quantities', async () => {
    const lotId = first(await shelf.buy('bar', 1, BAR, 24));
    const moved = await rig.call('stock.moveLot', {
      lotId,
      place: 'Rack B 3',
      heatNumber: 'H-9',
      note: 'mill side up',
    });
    expect([moved.place, moved.heatNumber, moved.qtyLeft]).toEqual(['Rack B 3', 'H-9', BAR]);
    expect((await rig.call('stock.lots', { text: 'rack b' })).rows.map((lot) => lot.id)).toEqual([lotId]);
    expect((await rig.call('stock.lots', { text: 'l-1' })).rows.map((lot) => lot.id)).toEqual([lotId]);
  });

  it('lists movements by item, knife and day in pages', async () => {
    await shelf.buy('belt', 3, 1_000_000, 30);
    const [one, two] = await shelf.plan(2);
    for (const [buildId, on] of [
      [one, '2024-07-07'],
      [two, '2024-07-08'],
    ] as const) {
      await rig.call('stock.draw', {
        buildId: buildId ?? '',
        itemId: shelf.itemIds.belt,
        qty: 500_000,
        use: 'consumable',
        on,
      });
    }
    const page = await rig.call('stock.movements', { itemId: shelf.itemIds.belt, limit: 2 });
    expect([page.total, page.rows.map((m) => m.on)]).toEqual([3, ['2024-07-08', '2024-07-07']]);
    const day = await rig.call('stock.movements', { from: '2024-07-08', to: '2024-07-08' });
    expect(day.rows.map((m) => m.buildSerial)).toEqual(['W02']);
    expect((await rig.call('stock.movements', { buildId: one })).rows.map((m) => m.buildSerial)).toEqual([
      'W01',
    ]);
  });
});

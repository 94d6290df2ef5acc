/**
 * Stocktakes through the real core. What a count sheet holds and how opened and dull belts count follows common
 * practice (no source); the identity "before less what was missing is what is kept" is arithmetic.
 */
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Output } from '../../electron/api/contract.ts';
import type { StocktakePaper } from '../../electron/documents/types.ts';
import { stockAt } from '../../electron/workshop/stock/at.ts';
import { noPress } from './no-press.ts';
import { openRig, type Rig, wholeBooks } from './rig.ts';
import { first, type ItemKey, micro, type Shelf, stockShelf } from './shelf.ts';

const INCH = 25_400_000;
const PIECE = 1_000_000;
const DAY = '2024-12-31';
type Stocktake = Output<'stocktake.get'>;

let rig: Rig;
let shelf: Shelf;
const papers: StocktakePaper[] = [];
const renderer = noPress('only stocktakes are set here', {
  stocktake: (paper: StocktakePaper) => {
    papers.push(paper);
    return Promise.resolve(new Uint8Array([1]));
  },
});

beforeEach(async () => {
  papers.length = 0;
  rig = await openRig({ now: '2025-01-02', renderer });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

const lineOf = (of: Stocktake, key: ItemKey, at = 0) => {
  const line = of.sheet.filter((one) => one.itemId === shelf.itemIds[key])[at];
  if (line === undefined) throw new Error(`No line ${at} of ${key}`);
  return line;
};
const place = (lotId: string, where: string) =>
  rig.call('stock.moveLot', { lotId, place: where, heatNumber: '', note: '' });
const begin = (on = DAY) => rig.call('stocktake.start', { on });
const countAll = async (of: Stocktake) => {
  for (const line of of.sheet)
    await rig.call('stocktake.count', { lineId: line.id, qty: line.bookedQty, opened: [] });
};

/** Two bars of which one is begun, seven belts at two places, walnut; a knife in work and belts bought after the day. */
async function stocked() {
  const [bar, second] = await shelf.buy('bar', 2, 48 * INCH, 48, '2024-07-02');
  const belts = await shelf.buy('belt', 7, PIECE, 68.6, '2024-07-03');
  await shelf.buy('walnut', 3, PIECE, 42, '2024-07-03');
  await place(bar ?? '', 'Rack 2');
  await place(second ?? '', 'Rack 10');
  const [knife = ''] = await shelf.plan(2);
  await rig.call('stock.draw', {
    buildId: knife,
    itemId: shelf.itemIds.bar,
    lotId: bar ?? '',
    qty: 8 * INCH,
    use: 'material',
    on: '2024-12-20',
  });
  const later = await shelf.buy('belt', 4, PIECE, 40, '2025-01-02');
  return { bar: bar ?? '', belts, later: later[0] ?? '', knife };
}

describe('A stocktake', () => {
  it('lists the day by place, leaves later purchases alone, books differences on the day and is kept', async () => {
    const { later } = await stocked();
    const open = await begin();
    expect(open.sheet.map((line) => [line.number, line.place, line.itemName, line.bookedQty])).toEqual([
      [1, 'Rack 2', 'Stainless bar 0.070 × 1.25', 40 * INCH],
      [2, 'Rack 10', 'Stainless bar 0.070 × 1.25', 48 * INCH],
      [3, '', 'Walnut pair', 3 * PIECE],
      [4, '', 'Belt 36 ceramic', 7 * PIECE],
    ]);
    // Two bars are 48.00, less 8 of 48 inches of one, 4.00 in the knife; belts 68.60; walnut 42.00.
    expect([open.bookedMicro, open.totals.inWorkMicro]).toEqual([micro(158.6), micro(4)]);
    await countAll(open);
    const short = await rig.call('stocktake.count', { lineId: lineOf(open, 'bar').id, qty: 36 * INCH });
    expect([short.differenceQty, short.differenceMicro, short.sinceQty]).toEqual([-4 * INCH, -micro(2), 0]);
    const over = await rig.call('stocktake.count', { lineId: lineOf(open, 'walnut').id, qty: 4 * PIECE });
    expect(over.differenceMicro).toBe(micro(14));
    expect((await rig.fault('stocktake.finish', { id: open.id })).message).toContain(
      'Say why it differs from the books: Line 1, Stainless bar 0.070 × 1.25; Line 3, Walnut pair',
    );
    await rig.call('stocktake.reason', { lineId: short.id, reason: 'unbooked', note: 'test coupon' });
    await rig.call('stocktake.reason', { lineId: over.id, reason: 'found' });
    const kept = await rig.call('stocktake.finish', { id: open.id });
    expect([kept.bookedMicro, kept.differenceMicro, kept.totalMicro]).toEqual([
      micro(158.6),
      micro(12),
      micro(170.6),
    ]);
    const moves = (await rig.call('stock.movements', { from: DAY, to: DAY })).rows;
    expect(moves.map((row) => [row.kind, row.qty, row.reason])).toEqual([
      ['count', PIECE, 'ST1: found'],
      ['count', -4 * INCH, 'ST1: used without booking, test coupon'],
    ]);
    expect((await rig.call('stock.lot', { id: later })).qtyLeft).toBe(4 * PIECE);
    expect(kept.booksNowMicro).toBeNull();
    expect(
      (await rig.fault('stock.reverse', { movementId: first(moves).id, reason: 'no' })).message,
    ).toContain('booked by the stocktake of 2024-12-31');
    expect((await rig.fault('stocktake.count', { lineId: short.id, qty: 1 })).kind).toBe('refused');
    expect((await rig.fault('stocktake.start', { on: DAY })).message).toContain('is kept as it was finished');
    // What is booked for that day later shows, and the stocktake stays.
    await rig.call('stock.takeOut', {
      lotId: first(lineOf(kept, 'walnut').lots).id,
      kind: 'sample',
      qty: PIECE,
      reason: 'given away',
      on: '2024-12-30',
    });
    const after = await rig.call('stocktake.get', { id: open.id });
    expect([after.totalMicro, after.booksNowMicro]).toEqual([micro(170.6), micro(156.6)]);
  });

  it('lets two people count, tells where they differ, and tells of what was booked for the day meanwhile', async () => {
    const { bar, knife } = await stocked();
    const helper = (await rig.call('hours.savePerson', { name: 'Tansy Holmoak' })).id;
    const open = await begin();
    await countAll(open);
    const line = lineOf(open, 'belt');
    const apart = await rig.call('stocktake.count', { lineId: line.id, who: helper, qty: 6 * PIECE });
    expect([apart.state, apart.counts.map((one) => one.name)]).toEqual([
      'apart',
      ['Jorun Sedgewarren', 'Tansy Holmoak'],
    ]);
    expect((await rig.fault('stocktake.finish', { id: open.id })).message).toContain('Two people counted');
    await rig.call('stocktake.uncount', { lineId: line.id, who: helper });
    await rig.call('stock.draw', {
      ...{ buildId: knife, itemId: shelf.itemIds.bar, lotId: bar, qty: 4 * INCH },
      ...{ use: 'material', on: '2024-12-30' },
    });
    expect((await rig.fault('stocktake.finish', { id: open.id })).message).toContain(
      'booked for that day after it was counted: Line 1',
    );
    const again = await rig.call('stocktake.count', { lineId: lineOf(open, 'bar').id, qty: 36 * INCH });
    expect([again.state, again.differenceQty]).toEqual(['agreed', 0]);
    // A purchase of before the day that came to light since.
    await shelf.buy('box', 5, PIECE, 34, '2024-12-30');
    expect((await rig.fault('stocktake.finish', { id: open.id })).message).toContain(
      '1 lot was written down',
    );
    const longer = await rig.call('stocktake.add', { id: open.id });
    expect(longer.sheet.map((one) => one.number)).toEqual([1, 2, 3, 4, 5]);
    expect((await rig.fault('stocktake.finish', { id: open.id })).message).toContain(
      '1 line is not counted yet: Line 5, Packaging set',
    );
    const kept = await rig.call('stocktake.finish', { id: open.id, uncounted: 'asBooked' });
    expect(lineOf(kept, 'box').countedQty).toBeNull();
    expect([kept.differenceMicro, kept.totalMicro]).toEqual([0, micro(192.6)]);
  });

  it('takes off what moved since where it is counted as it lies there now', async () => {
    const { bar, knife } = await stocked();
    await rig.call('stock.draw', {
      ...{ buildId: knife, itemId: shelf.itemIds.bar, lotId: bar, qty: 10 * INCH },
      ...{ use: 'material', on: '2025-01-01' },
    });
    const open = await begin();
    expect([lineOf(open, 'bar').bookedQty, lineOf(open, 'bar').sinceQty]).toEqual([40 * INCH, -10 * INCH]);
    const belts = lineOf(open, 'belt');
    expect(belts.sinceQty).toBe(4 * PIECE);
    const bars = await rig.call('stocktake.count', {
      ...{ lineId: lineOf(open, 'bar').id, qty: 30 * INCH, lies: 'now' },
    });
    const now = await rig.call('stocktake.count', { lineId: belts.id, qty: 10 * PIECE, lies: 'now' });
    expect([bars.differenceQty, now.countedQty, now.differenceQty]).toEqual([0, 6 * PIECE, -PIECE]);
    const few = await rig.fault('stocktake.count', { lineId: belts.id, qty: 3 * PIECE, lies: 'now' });
    expect(few.message).toContain('4 belts came in after that day');
    // Nothing of the first bar: 40 inches were missing, but ten of them went into a knife since.
    const gone = await rig.call('stocktake.count', { lineId: lineOf(open, 'bar').id, qty: 0 });
    await rig.call('stocktake.reason', { lineId: gone.id, reason: 'lost' });
    await rig.call('stocktake.reason', { lineId: belts.id, reason: 'damaged' });
    const before = wholeBooks(rig.db);
    const fault = await rig.fault('stocktake.finish', { id: open.id, uncounted: 'asBooked' });
    expect(fault.message).toContain('40 in missing, but after what was used since only 30 in is left');
    expect(wholeBooks(rig.db)).toEqual(before);
  });

  it('counts what is left of belts in use where knives take them by use, and only unopened ones elsewhere', async () => {
    await stocked();
    const inUse = await rig.call('consumables.open', { itemId: shelf.itemIds.belt, on: '2024-12-01' });
    const dull = await rig.call('consumables.open', { itemId: shelf.itemIds.belt, on: '2024-11-01' });
    await rig.call('consumables.peg', { openingId: dull.id, to: 'dull', on: '2024-12-05' });
    const open = await begin();
    const line = lineOf(open, 'belt');
    expect([line.opened.map((one) => one.id), line.dull]).toEqual([[inUse.id], 1]);
    const half = { id: inUse.id, leftPpm: 500_000 };
    const counted = await rig.call('stocktake.count', {
      ...{ lineId: line.id, qty: 6 * PIECE, opened: [half] },
    });
    expect([counted.countedQty, counted.differenceMicro]).toEqual([6_500_000, -micro(4.9)]);
    expect(counted.opened[0]?.leftPpm).toBe(500_000);
  });

  it('lists knives at cost, those kept for somebody or on consignment apart, and waits for one that is missing', async () => {
    const { knife } = await stocked();
    await rig.call('builds.finish', { id: knife, on: '2024-12-28' });
    const open = await begin();
    const [one] = open.knives;
    expect([one?.serial, one?.state, one?.valueMicro]).toEqual(['W01', 'finished', micro(4)]);
    const say = (whereabouts: string, withWhom = '') =>
      rig.call('stocktake.knife', {
        id: open.id,
        buildId: knife,
        whereabouts: whereabouts as 'here',
        withWhom,
      });
    await countAll(open);
    await say('notSeen');
    expect((await rig.fault('stocktake.finish', { id: open.id })).message).toContain('W01 was not found');
    await say('consignment', 'The Copper Lantern');
    const kept = await rig.call('stocktake.finish', { id: open.id });
    expect([kept.totals.finishedMicro, kept.totals.inWorkMicro]).toEqual([micro(4), 0]);
    await rig.call('stocktake.sheetPdf', { id: open.id });
    await rig.call('stocktake.resultPdf', { id: open.id });
    const [sheet, result] = papers;
    expect(first(sheet?.sections ?? [])).toMatchObject({ heading: 'Rack 2', blanks: 2 });
    expect(JSON.stringify(sheet?.sections)).not.toContain('40 in');
    expect(result?.sections.map((section) => section.heading)).toEqual([
      'What it came to, at cost',
      'Finished knives on consignment, away or kept for somebody',
      'Rack 2',
      'Rack 10',
      'Without a place',
    ]);
    expect(JSON.stringify(result?.sections[1])).toContain('on consignment with The Copper Lantern');
  });

  it('books at the moving average of its day, and shows each line at it', async () => {
    await rig.call('stock.saveItem', {
      ...{ id: shelf.itemIds.box, name: 'Packaging set', kind: 'packaging', form: 'piece', unit: 'piece' },
      ...{ pieceWord: 'set', costing: 'average' },
    });
    const cheap = first(await shelf.buy('box', 10, PIECE, 10, '2024-07-01'));
    const dear = first(await shelf.buy('box', 10, PIECE, 90, '2024-07-10'));
    await place(cheap, 'Shelf');
    await place(dear, 'Drawer');
    const left = async (): Promise<readonly number[]> => {
      const { qtyLeft, valueLeftMicro } = await rig.call('stock.item', { id: shelf.itemIds.box });
      return [qtyLeft / PIECE, valueLeftMicro];
    };
    const counted = async (on: string, pieces: number) => {
      const open = await rig.call('stocktake.start', { on, places: ['Shelf'] });
      const { id: lineId } = first(open.sheet);
      await rig.call('stocktake.count', { lineId, qty: pieces * PIECE });
      const line = await rig.call('stocktake.reason', { lineId, reason: 'miscounted' });
      return { line, id: open.id };
    };
    // By hand: on the 5th ten lay there at 1.00 each. Today's average, 5.00, would leave that day 7 sets at -5.00.
    const missing = await counted('2024-07-05', 7);
    expect([missing.line.bookedMicro, missing.line.differenceMicro]).toEqual([micro(10), -micro(3)]);
    expect((await rig.call('stocktake.finish', { id: missing.id })).differenceMicro).toBe(-micro(3));
    expect(await left()).toEqual([17, micro(97)]);
    // The day after, seven at 7.00; what lies there now, 17 at 97.00, is drawn level on both lots.
    const found = await counted('2024-07-06', 9);
    expect([found.line.bookedMicro, found.line.differenceMicro]).toEqual([micro(7), micro(2)]);
    await rig.call('stocktake.finish', { id: found.id });
    expect([await left(), stockAt(rig.db, '2024-07-06').totalMicro]).toEqual([[19, micro(99)], micro(9)]);
    // On the 11th ten leave at 99/19 each: 52.105263. The nine left hold 46.894737, those of the 7th were 9.00.
    const out = { lotId: dear, kind: 'sample', reason: 'gift', on: '2024-07-11' } as const;
    await rig.call('stock.takeOut', { ...out, qty: 10 * PIECE });
    const none = await counted('2024-07-07', 0);
    const fault = await rig.fault('stocktake.finish', { id: none.id });
    expect(fault.message).toContain('Line 1, Packaging set: What is left of this is worth more than all');
    expect(await left()).toEqual([9, 46_894_737]);
  });

  it('refuses a day to come, a second open one, a clock set back, and takes the end of a leap February', async () => {
    await stocked();
    expect((await rig.fault('stocktake.start', { on: '2025-01-03' })).message).toContain('still to come');
    expect((await rig.fault('stocktake.start', { on: '2024-02-29' })).message).toContain('nothing lay there');
    const part = await rig.call('stocktake.start', { on: DAY, places: ['Rack 2'] });
    expect([part.sheet.length, part.totals.inWorkMicro, part.knives]).toEqual([1, 0, []]);
    expect((await rig.fault('stocktake.start', { on: DAY })).message).toContain(
      'ST1 of 2024-12-31 is still open',
    );
    const other = await rig.call('stocktake.start', { on: DAY, places: ['Rack 10', ''] });
    expect(other.sheet).toHaveLength(3);
    await rig.call('stocktake.drop', { id: other.id, reason: 'began with the other rack' });
    expect((await rig.fault('stocktake.count', { lineId: first(other.sheet).id, qty: 1 })).message).toContain(
      'ST2 is dropped',
    );
    expect((await rig.fault('stocktake.count', { lineId: first(part.sheet).id, qty: -1 })).message).toContain(
      'cannot be below zero',
    );
    await countAll(part);
    rig.clock.set('2024-12-30');
    expect((await rig.fault('stocktake.finish', { id: part.id })).message).toContain('still to come');
    rig.clock.set('2028-03-01');
    await rig.call('stocktake.finish', { id: part.id });
    const leap = await begin('2028-02-29');
    expect(leap.sheet.map((line) => line.bookedQty)).toContain(11 * PIECE);
  });
});

it('keeps value before plus every difference, to the millionth, whatever is counted', async () => {
  for (const key of ['belt', 'box'] as const) {
    const { item } = await rig
      .call('stock.item', { id: shelf.itemIds[key] })
      .then((found) => ({ item: found }));
    await rig.call('stock.saveItem', {
      ...{ id: item.id, name: item.name, kind: item.kind, form: item.form, unit: item.unit },
      ...{ pieceWord: item.pieceWord, costing: key === 'belt' ? 'average' : 'fifo' },
    });
  }
  await shelf.buy('bar', 2, 47 * INCH, 23.33, '2024-07-02');
  let on = '2024-07-01';
  await fc.assert(
    fc.asyncProperty(
      fc.array(
        fc.record({ pieces: fc.integer({ min: 1, max: 3 }), cents: fc.integer({ min: 1, max: 3333 }) }),
        {
          minLength: 1,
          maxLength: 2,
        },
      ),
      fc.array(fc.nat({ max: 2000 }), { minLength: 4, maxLength: 4 }),
      async (bought, parts) => {
        on = new Date(Date.parse(`${on}T00:00:00Z`) + 86_400_000 * 2).toISOString().slice(0, 10);
        for (const [at, { pieces, cents }] of bought.entries())
          await shelf.buy(at === 0 ? 'belt' : 'box', pieces, 333_333, cents / 100, on);
        const before = stockAt(rig.db, on).totalMicro;
        const open = await begin(on);
        for (const [at, line] of open.sheet.entries()) {
          const qty = Math.floor((line.bookedQty * (parts[at % parts.length] ?? 0)) / 1000);
          const counted = await rig.call('stocktake.count', { lineId: line.id, qty });
          if (counted.differenceQty !== 0)
            await rig.call('stocktake.reason', { lineId: line.id, reason: 'miscounted' });
        }
        const kept = await rig.call('stocktake.finish', { id: open.id });
        expect(kept.bookedMicro).toBe(before);
        expect(kept.totalMicro).toBe(before + (kept.differenceMicro ?? Number.NaN));
        expect(stockAt(rig.db, on).totalMicro).toBe(kept.totalMicro);
        expect(kept.booksNowMicro).toBeNull();
      },
    ),
    { numRuns: 12 },
  );
});

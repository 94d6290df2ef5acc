/** Whatever is done to stock, in whatever order, nothing is created or lost and the running sums equal the ledger. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CoreEndpointName, Output } from '../../electron/api/contract.ts';
import { sumOf } from '../../electron/domain/integers.ts';
import { openRig, type Rig } from './rig.ts';
import { type Shelf, stockShelf } from './shelf.ts';

/** One thing a person may do; numbers are taken modulo what there is. */
type Step =
  | {
      readonly do: 'buy';
      readonly pieces: number;
      readonly each: number;
      readonly price: number;
      readonly freight: number;
    }
  | {
      readonly do: 'draw';
      readonly knife: number;
      readonly part: number;
      readonly named: boolean;
      readonly lot: number;
    }
  | {
      readonly do: 'cut';
      readonly lot: number;
      readonly length: number;
      readonly whole: boolean;
      readonly blanks: number;
    }
  | { readonly do: 'takeOut'; readonly lot: number; readonly part: number }
  | { readonly do: 'count'; readonly lot: number; readonly part: number }
  | { readonly do: 'stocktake'; readonly part: number }
  | { readonly do: 'reverse'; readonly movement: number }
  | { readonly do: 'charge'; readonly knife: number; readonly micro: number; readonly use: number }
  | { readonly do: 'kind'; readonly kind: number };

const whole = fc.nat({ max: 1_000_000 });
const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({
    do: fc.constant('buy' as const),
    pieces: fc.integer({ min: 1, max: 4 }),
    each: fc.integer({ min: 1, max: 3_000_000 }),
    price: fc.nat({ max: 50_000_000 }),
    freight: fc.nat({ max: 1_000_000 }),
  }),
  fc.record({ do: fc.constant('draw' as const), knife: whole, part: whole, named: fc.boolean(), lot: whole }),
  fc.record({
    do: fc.constant('cut' as const),
    lot: whole,
    length: whole,
    whole: fc.boolean(),
    blanks: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({ do: fc.constant('takeOut' as const), lot: whole, part: whole }),
  fc.record({ do: fc.constant('count' as const), lot: whole, part: whole }),
  fc.record({ do: fc.constant('stocktake' as const), part: whole }),
  fc.record({ do: fc.constant('reverse' as const), movement: whole }),
  fc.record({ do: fc.constant('charge' as const), knife: whole, micro: whole, use: whole }),
  fc.record({ do: fc.constant('kind' as const), kind: whole }),
);

/** Days on which things are done, in any order: what is written down late is written down as what it is. */
const FIRST = '2024-07-02';
const anyDay = fc.integer({ min: 2, max: 20 }).map((day) => `2024-07-${String(day).padStart(2, '0')}`);

let rig: Rig;
let shelf: Shelf;
beforeAll(async () => {
  rig = await openRig({ now: '2024-07-20' });
  shelf = await stockShelf(rig);
});
afterAll(() => rig.close());

/** Quantities from nothing to a little more than there is, so that refusals happen too. */
const around = (part: number, left: number): number => Math.floor(((part % 1_000) * (left + 2)) / 900);

/** Counts the lots of an item, each at a place of the item's own, and drops what cannot be booked. */
async function takeStock(
  place: string,
  lots: readonly { readonly id: string }[],
  part: number,
  on: string,
): Promise<void> {
  for (const { id: lotId } of lots)
    await rig.call('stock.moveLot', { lotId, place, heatNumber: '', note: '' });
  const begun = await rig.core.call('stocktake.start', { on, places: [place] });
  if (!begun.ok) return;
  const { id, sheet } = begun.value as Output<'stocktake.start'>;
  for (const [at, line] of sheet.entries()) {
    const qty = around(part + at * 400, line.bookedQty);
    await rig.call('stocktake.count', { lineId: line.id, qty });
    await rig.call('stocktake.reason', { lineId: line.id, reason: 'miscounted' });
  }
  const said = await rig.call('stocktake.get', { id });
  const kept = await rig.core.call('stocktake.finish', { id });
  if (!kept.ok) await rig.call('stocktake.drop', { id, reason: 'x' });
  else {
    // What was shown before is what was booked, but for the millionths a line moves the average by.
    const { totalMicro } = (kept.value as Output<'stocktake.finish'>).totals;
    expect(Math.abs(totalMicro - said.totals.totalMicro)).toBeLessThanOrEqual(sheet.length);
  }
}

async function becomeKind(id: string, at: number): Promise<void> {
  const { name, form, unit, usefulRemnant, costing } = await rig.call('stock.item', { id });
  const kind = (['steel', 'handle', 'fitting'] as const)[at % 3];
  await rig.core.call('stock.saveItem', { id, name, form, unit, usefulRemnant, costing, kind });
}

/** Taken by length or as shares of a whole bar. */
const cutShare = (wanted: { readonly whole: boolean }) =>
  wanted.whole ? { sharing: 'whole-bar', blanksPerBar: 3 } : { sharing: 'by-length' };

async function perform(itemId: string, knives: readonly string[], wanted: Step, on: string): Promise<void> {
  const lots = (await rig.call('stock.item', { id: itemId })).lots;
  const lot = lots[('lot' in wanted ? wanted.lot : 0) % Math.max(1, lots.length)];
  const knife = (at: number): string => knives[at % knives.length] ?? '';
  const send = (name: CoreEndpointName, input: unknown) => rig.core.call(name, input);
  if (wanted.do === 'buy') {
    const lines = [{ itemId, pieces: wanted.pieces, qtyEach: wanted.each, priceMicro: wanted.price }];
    await send('stock.buy', {
      supplierId: shelf.supplierId,
      on,
      freightMicro: wanted.freight,
      lines,
    });
  } else if (wanted.do === 'reverse') {
    const { rows } = await rig.call('stock.movements', { itemId });
    await send('stock.reverse', {
      movementId: rows[wanted.movement % Math.max(1, rows.length)]?.id ?? 'none',
      reason: 'x',
    });
  } else if (wanted.do === 'charge') {
    const use = (['material', 'consumable', 'energy', 'packaging'] as const)[wanted.use % 4];
    const label = wanted.use % 3 === 0 ? 'Steel' : 'Gas';
    const charge = { label, use, amountMicro: wanted.micro, rung: 1, on };
    await send('builds.charge', { buildId: knife(wanted.knife), ...charge });
  } else if (wanted.do === 'kind') {
    await becomeKind(itemId, wanted.kind);
  } else if (lot === undefined) {
    return;
  } else if (wanted.do === 'stocktake') {
    await takeStock(`Place of ${itemId}`, lots, wanted.part, on);
  } else if (wanted.do === 'draw') {
    const from = wanted.named ? { lotId: lot.id } : {};
    const qty = around(wanted.part, wanted.named ? lot.qtyLeft : sumOf(lots, (each) => each.qtyLeft));
    await send('stock.draw', { buildId: knife(wanted.knife), itemId, qty, use: 'material', on, ...from });
  } else if (wanted.do === 'cut') {
    const length = 1 + Math.floor(around(wanted.length, lot.qtyReceived) / 3);
    await send('stock.cut', {
      lotId: lot.id,
      blankLength: length,
      kerf: 7,
      ...cutShare(wanted),
      buildIds: knives.slice(0, wanted.blanks),
      on,
    });
  } else if (wanted.do === 'takeOut') {
    await send('stock.takeOut', {
      lotId: lot.id,
      kind: 'scrap',
      qty: around(wanted.part, lot.qtyLeft),
      reason: 'x',
      on,
    });
  } else {
    await send('stock.count', {
      lotId: lot.id,
      countedQty: around(wanted.part, lot.qtyLeft),
      reason: 'x',
      on,
    });
  }
}

/** Lots whose running sums do not equal their movements, or that hold value without stock. */
async function lotsThatDisagree(itemId: string): Promise<readonly unknown[]> {
  const { lots } = await rig.call('stock.item', { id: itemId });
  const ledger = await rig.call('stock.movements', { itemId, limit: 20_000 });
  return lots.filter((lot) => {
    const own = ledger.rows.filter((m) => m.lotId === lot.id);
    const [receipt] = own.filter((m) => m.kind === 'receipt');
    const out = own.filter((m) => m.kind !== 'receipt');
    const agree =
      lot.qtyLeft === sumOf(own, (m) => m.qty) &&
      lot.valueLeftMicro === sumOf(own, (m) => m.valueMicro) &&
      receipt?.qty === lot.qtyReceived &&
      receipt.valueMicro === lot.valueReceivedMicro &&
      lot.qtyReceived === lot.qtyLeft - sumOf(out, (m) => m.qty) &&
      lot.valueReceivedMicro === lot.valueLeftMicro - sumOf(out, (m) => m.valueMicro);
    return (
      !agree || lot.qtyLeft < 0 || lot.valueLeftMicro < 0 || (lot.qtyLeft === 0 && lot.valueLeftMicro !== 0)
    );
  });
}

/** Ends of days at which the item, or one of its lots, held less than nothing, or nothing that was worth something. */
async function daysThatDisagree(itemId: string): Promise<readonly string[]> {
  const { rows } = await rig.call('stock.movements', { itemId, limit: 20_000 });
  const lots = [...new Set(rows.map((move) => move.lotId))];
  return [...new Set(rows.map((move) => move.on))].filter((day) => {
    const upTo = rows.filter((move) => move.on <= day);
    const [qty, value] = [sumOf(upTo, (move) => move.qty), sumOf(upTo, (move) => move.valueMicro)];
    const short = lots.some((id) => sumOf(upTo, (move) => (move.lotId === id ? move.qty : 0)) < 0);
    return short || value < 0 || (qty === 0 && value !== 0);
  });
}

/** Knives whose cost so far is not the direct cost of their sheet, or whose sheet is not what was booked. */
async function knivesThatDisagree(knives: readonly string[]): Promise<readonly string[]> {
  const builds = await Promise.all(
    knives.map(async (id) => ({
      build: await rig.call('builds.get', { id }),
      sheet: await rig.call('costs.sheet', { buildId: id }),
    })),
  );
  return builds
    .filter(({ build, sheet }) => {
      const drawn = -sumOf(build.movements, (m) => m.valueMicro);
      const booked = drawn + sumOf(build.charges, (charge) => charge.amountMicro);
      const lines = [...sheet.materials, sheet.consumables, sheet.energy, sheet.packaging];
      return (
        build.costMicro !== sheet.directMinor * 10_000 ||
        sheet.directMinor !== sumOf(lines, (line) => line.amountMinor) ||
        booked !== sumOf(lines, (line) => line.exactMicro)
      );
    })
    .map(({ build }) => build.serial);
}

describe('the ledger of stock', () => {
  it('keeps every quantity and every millionth through any sequence of purchases, draws, cuts, counts and takings back', async () => {
    let made = 0;
    const sequence = fc.array(fc.tuple(step, anyDay), { minLength: 4, maxLength: 14 });
    const costing = fc.constantFrom('fifo' as const, 'average' as const);
    await fc.assert(
      fc.asyncProperty(sequence, fc.boolean(), costing, async (steps, byLength, rule) => {
        made += 1;
        const kind = byLength ? { form: 'length', unit: 'mm' } : { form: 'weight', unit: 'g' };
        const item = await rig.call('stock.saveItem', {
          name: `Material ${made}`,
          kind: 'steel',
          usefulRemnant: 300_000,
          costing: rule,
          ...(kind as { form: 'length'; unit: string }),
        });
        const knives = await shelf.plan(3);
        const begin = { do: 'buy', pieces: 2, each: 1_000_003, price: 17_000_001, freight: 7 } as const;
        await perform(item.id, knives, begin, FIRST);
        for (const [wanted, on] of steps) await perform(item.id, knives, wanted, on);
        expect(await daysThatDisagree(item.id)).toEqual([]);
        expect(await lotsThatDisagree(item.id)).toEqual([]);
        expect(await knivesThatDisagree(knives)).toEqual([]);
      }),
      { numRuns: 40 },
    );
    // A refusal is an answer; a mistake of ours would have been logged.
    expect(rig.log).toEqual([]);
  }, 120_000);

  it('lets an item be opened whose speck was bought so dear that no number holds the price of a whole unit', async () => {
    const item = await rig.call('stock.saveItem', {
      name: 'Dear dust',
      kind: 'steel',
      form: 'weight',
      unit: 'g',
    });
    const lines = [{ itemId: item.id, pieces: 1, qtyEach: 1, priceMicro: 9_007_200 }];
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: '2024-07-02', lines });
    expect((await rig.call('stock.item', { id: item.id })).lastUnitPriceMicro).toBeNull();
  });

  it('is what the books’ own sums say, over everything done above', () => {
    const { db } = rig;
    const lots = db.one(
      db.q
        .selectFrom('lots')
        .select(({ fn }) => [
          fn.sum<number>('qty_left').as('qty'),
          fn.sum<number>('value_left_micro').as('value'),
        ]),
    );
    const ledger = db.one(
      db.q
        .selectFrom('movements')
        .select(({ fn }) => [fn.sum<number>('qty').as('qty'), fn.sum<number>('value_micro').as('value')]),
    );
    expect(ledger).toEqual(lots);
    expect(rig.core.books.checkJournal().sound).toBe(true);
  });
});

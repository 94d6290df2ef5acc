/** From rows of the books to the lines of a stocktake. */
import type { ItemForm, ItemKind } from '../../api/stock.ts';
import type { DifferenceReason, StocktakeLine } from '../../api/stocktakes.ts';
import { groupBy } from '../../domain/groups.ts';
import { allocate, sumOf } from '../../domain/integers.ts';
import { countState } from '../../domain/stocktake.ts';
import type { ReadDb } from '../../storage/db.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import { heldOfItemOn, lotsHeldOn } from '../../storage/queries/stock-value.ts';
import {
  cameInAfter,
  type CountRow,
  countRows,
  type LineLot,
  lineRows,
  type LineRow,
  lotsOfLines,
  type OpeningThen,
  openingsThen,
  type StocktakeRow,
} from '../../storage/queries/stocktakes.ts';
import { houseOf } from '../costs/house.ts';
import { changesOfLine } from './changes.ts';
import { countedTogether } from './need.ts';

/** All that is known of the lines of one stocktake, fetched together. */
interface Known {
  readonly db: ReadDb;
  readonly stocktake: StocktakeRow;
  readonly maker: string;
  readonly lots: ReadonlyMap<string, readonly LineLot[]>;
  readonly counts: ReadonlyMap<string, readonly CountRow[]>;
  /** By lot: what each of an item valued at the moving average was worth on the day. */
  readonly averaged: ReadonlyMap<string, number>;
  /** By the first line of their item. */
  readonly openings: ReadonlyMap<string, readonly OpeningThen[]>;
}

/**
 * At the moving average a unit of every lot is worth the same on any day. Movements that draw the lots level may stand on
 * a day before a lot came in, when something was entered late: only their sum over the item says what the day was worth.
 */
const averagedOn = (db: ReadDb, itemId: string, on: string): [string, number][] => {
  const lots = lotsHeldOn(db, itemId, on);
  if (lots.length === 0) return [];
  const worth = allocate(
    heldOfItemOn(db, itemId, on).valueMicro,
    lots.map((lot) => lot.qty),
  );
  return lots.map((lot, at) => [lot.id, worth[at] ?? 0]);
};

function known(db: ReadDb, stocktake: StocktakeRow, rows: readonly LineRow[]): Known {
  const { id, on_date: on } = stocktake;
  const firstLine = new Map(rows.toReversed().map((line) => [line.item_id, line.id]));
  const averaged = new Set(rows.flatMap((row) => (row.costing === 'average' ? [row.item_id] : [])));
  return {
    db,
    stocktake,
    averaged: new Map([...averaged].flatMap((itemId) => averagedOn(db, itemId, on))),
    maker: houseOf(db).shop.maker,
    lots: groupBy(lotsOfLines(db, id, on), (lot) => lot.line_id),
    counts: groupBy(countRows(db, id), (count) => count.line_id),
    openings: groupBy(openingsThen(db, id, on), (opening) => firstLine.get(opening.item_id) ?? ''),
  };
}

function toCounts(counts: readonly CountRow[], bookedQty: number, maker: string): StocktakeLine['counts'] {
  return counts.map((count) => ({
    who: count.who === '' ? null : count.who,
    name: count.name ?? maker,
    qty: count.qty,
    at: count.counted_at,
    moved: count.booked_qty !== bookedQty,
  }));
}

type Figures = Pick<
  StocktakeLine,
  'bookedQty' | 'bookedMicro' | 'state' | 'countedQty' | 'differenceQty' | 'differenceMicro'
>;

/** As it was kept when the stocktake was finished. */
const keptFigures = (line: LineRow): Figures => ({
  bookedQty: line.booked_qty ?? 0,
  bookedMicro: line.booked_micro ?? 0,
  state: line.counted_qty === null ? 'uncounted' : 'agreed',
  countedQty: line.counted_qty,
  differenceQty: line.difference_qty ?? 0,
  differenceMicro: line.difference_micro ?? 0,
});

/** As it stands now: what would be booked if it were finished. */
function liveFigures(
  about: Known,
  line: LineRow,
  lots: readonly LineLot[],
  counts: readonly CountRow[],
): Figures {
  const bookedQty = sumOf(lots, (lot) => lot.qty_then);
  const state = countState(
    counts.map((count) => ({ qty: count.qty, bookedQty: count.booked_qty })),
    bookedQty,
  );
  const countedQty = state === 'agreed' || state === 'moved' ? (counts.at(-1)?.qty ?? null) : null;
  const differenceQty = countedQty === null ? 0 : countedQty - bookedQty;
  const changes =
    differenceQty === 0 ? null : changesOfLine(about.db, line, lots, differenceQty, about.stocktake.on_date);
  return {
    bookedQty,
    bookedMicro: sumOf(lots, (lot) => about.averaged.get(lot.id) ?? lot.value_then),
    state,
    countedQty,
    differenceQty,
    // What cannot be booked is refused when it is finished, in words.
    differenceMicro: changes?.ok === true ? sumOf(changes.value.changes, (change) => change.valueMicro) : 0,
  };
}

const openedOf = (openings: readonly OpeningThen[]): Pick<StocktakeLine, 'opened' | 'dull'> => ({
  opened: openings
    .filter((one) => one.dull === 0)
    .map((one) => ({ id: one.id, on: one.on_date, qty: one.qty, leftPpm: one.left_ppm })),
  dull: openings.filter((one) => one.dull === 1).length,
});

function sinceOf({ db, stocktake }: Known, line: LineRow, lots: readonly LineLot[]): number {
  const later = countedTogether(line) ? cameInAfter(db, line.item_id, line.place, stocktake.on_date) : 0;
  return sumOf(lots, (lot) => lot.qty_left - lot.qty_then) + later;
}

function toLine(about: Known, line: LineRow): StocktakeLine {
  const lots = about.lots.get(line.id) ?? [];
  const counts = about.counts.get(line.id) ?? [];
  const ended = about.stocktake.state === 'finished';
  const figures = ended ? keptFigures(line) : liveFigures(about, line, lots, counts);
  return {
    ...{ id: line.id, number: line.number, place: line.place },
    ...{ itemId: line.item_id, itemName: line.item_name, kind: line.kind as ItemKind },
    ...{ form: line.form as ItemForm, unit: line.unit, pieceWord: line.piece_word },
    lots: lots.map((lot) => ({
      id: lot.id,
      tag: tagOf(lot.number),
      heatNumber: lot.heat_number,
      receivedOn: lot.received_on,
    })),
    ...figures,
    sinceQty: ended ? 0 : sinceOf(about, line, lots),
    fallsByOpening: line.consumed_by === 'opening',
    ...openedOf(about.openings.get(line.id) ?? []),
    counts: toCounts(counts, figures.bookedQty, about.maker),
    reason: line.reason === '' ? null : (line.reason as DifferenceReason),
    reasonNote: line.reason_note,
  };
}

/** The lines of a stocktake in the order of its sheet. */
export function readLines(db: ReadDb, stocktake: StocktakeRow): StocktakeLine[] {
  const rows = lineRows(db, stocktake.id);
  const about = known(db, stocktake, rows);
  return rows.map((row) => toLine(about, row));
}

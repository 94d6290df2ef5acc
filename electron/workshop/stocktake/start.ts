/** Use-cases: the sheet of a day, and what is put on it later. */
import { refused } from '../../api/errors.ts';
import { itemKinds } from '../../api/stock.ts';
import { groupBy } from '../../domain/groups.ts';
import { overlap } from '../../domain/stocktake.ts';
import type { ReadDb } from '../../storage/db.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import {
  insertLine,
  insertStocktake,
  lineRows,
  lotsOfLines,
  type LotThen,
  lotsThen,
  nextStocktake,
  stocktakeRows,
  stocktakeTagOf,
} from '../../storage/queries/stocktakes.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { stockAt } from '../stock/at.ts';
import { needLot } from '../stock/lots.ts';
import { needWorkshop } from '../workshop/need.ts';
import { countedTogether, needOpenStocktake, placesOf } from './need.ts';
import { notOnSheet, readStocktake } from './read.ts';

type SheetLot = Omit<LotThen, 'received_on'>;

/** By name; what has no place comes last. */
const byPlace = (a: string, b: string): number =>
  Number(a === '') - Number(b === '') || a.localeCompare(b, 'en', { numeric: true });

const kindOrder = (kind: string): number => itemKinds.findIndex((one) => one === kind);

/** The lots of one line each, in the order a person walks along the rack. */
function linesOf(lots: readonly SheetLot[]): SheetLot[][] {
  const groups = groupBy(lots, (lot) =>
    countedTogether(lot) ? JSON.stringify([lot.item_id, lot.place]) : lot.id,
  );
  const keyed = [...groups.values()].flatMap((own) => (own[0] === undefined ? [] : [{ first: own[0], own }]));
  return keyed
    .toSorted(
      (a, b) =>
        byPlace(a.first.place, b.first.place) ||
        kindOrder(a.first.kind) - kindOrder(b.first.kind) ||
        a.first.item_name.localeCompare(b.first.item_name, 'en', { numeric: true }) ||
        a.first.number - b.first.number,
    )
    .map(({ own }) => own);
}

function writeLines(ctx: CommandContext, stocktakeId: string, lots: readonly SheetLot[], from: number): void {
  linesOf(lots).forEach((own, at) => {
    const [first] = own;
    if (first === undefined) return;
    insertLine(
      ctx.db,
      {
        ...{ id: ctx.newId(), stocktake_id: stocktakeId, number: from + at },
        ...{ place: first.place, item_id: first.item_id },
      },
      own.map((lot) => lot.id),
    );
  });
}

/** @throws FaultError `refused` while another one counts the same, or when one of that day or a later one is kept */
function demandFree(db: ReadDb, on: string, places: readonly string[]): void {
  const same = stocktakeRows(db).filter((row) => overlap(placesOf(row), places));
  const open = same.find((row) => row.state === 'open');
  if (open !== undefined) {
    throw refused(
      `${stocktakeTagOf(open.number)} of ${open.on_date} is still open and counts the same things. Go on with it, or drop it first.`,
    );
  }
  const kept = same.find((row) => row.state === 'finished' && row.on_date >= on);
  if (kept === undefined) return;
  throw refused(
    `${stocktakeTagOf(kept.number)} of ${kept.on_date} is kept as it was finished; a count of ${on} would change it. Choose a later day.`,
    'on',
  );
}

/** Places at which something lay at the end of a day. */
export const places: HandlerFor<'stocktake.places'> = (ctx, { on }) =>
  [...groupBy(lotsThen(ctx.db, on), (lot) => lot.place)]
    .map(([place, lots]) => ({ place, lots: lots.length }))
    .toSorted((a, b) => byPlace(a.place, b.place));

/** Makes the sheet of a day. */
export const start: HandlerFor<'stocktake.start'> = {
  run(ctx, { on, places: asked, note }) {
    needWorkshop(ctx.db);
    demandCome(ctx.clock.today(), on);
    const wanted = [...new Set(asked)].toSorted(byPlace);
    demandFree(ctx.db, on, wanted);
    const lots = lotsThen(ctx.db, on).filter((lot) => wanted.length === 0 || wanted.includes(lot.place));
    const whole = wanted.length === 0;
    if (lots.length === 0 && !(whole && stockAt(ctx.db, on).totalMicro > 0)) {
      throw refused(
        `By the books nothing lay there at the end of ${on}. Choose another day, or enter what you had as a purchase of that day.`,
        'on',
      );
    }
    const id = ctx.newId();
    insertStocktake(ctx.db, {
      ...{ id, number: nextStocktake(ctx.db), on_date: on, state: 'open' },
      ...{ places: JSON.stringify(wanted), note, started_at: ctx.clock.now() },
    });
    writeLines(ctx, id, lots, 1);
    return readStocktake(ctx.db, id);
  },
};

/** One lot the books hold for empty on the day, because some of it lies there after all. */
function emptyLot(
  ctx: CommandContext,
  stocktake: { readonly id: string; readonly on_date: string },
  lotId: string,
): SheetLot {
  const lot = needLot(ctx.db, lotId);
  if (lot.received_on > stocktake.on_date) {
    throw refused(
      `${tagOf(lot.number)} came in on ${lot.received_on}, after the day that is counted. It does not belong on this sheet.`,
      'lotId',
    );
  }
  if (lotsOfLines(ctx.db, stocktake.id, stocktake.on_date).some((one) => one.id === lotId)) {
    throw refused(`${tagOf(lot.number)} is on the sheet already.`, 'lotId');
  }
  return lot;
}

/** Puts more lots on the sheet, below what is there. */
export const add: HandlerFor<'stocktake.add'> = {
  run(ctx, { id, lotId }) {
    needWorkshop(ctx.db);
    const stocktake = needOpenStocktake(ctx.db, id);
    const lots = lotId === undefined ? notOnSheet(ctx.db, stocktake) : [emptyLot(ctx, stocktake, lotId)];
    if (lots.length === 0) throw refused('Nothing is missing on this sheet.');
    const last = lineRows(ctx.db, id).at(-1)?.number ?? 0;
    writeLines(ctx, id, lots, last + 1);
    return readStocktake(ctx.db, id);
  },
};

/** Use-cases: the rack and its ledger. */
import { missing } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildsOfLot, lotPage, lotRow, movementCount, movementRows } from '../../storage/queries/lots.ts';
import { purchaseOfLine } from '../../storage/queries/purchases.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { toLotRow, toMovement } from './views.ts';

const ALL = { limit: -1, offset: 0 };

/** A lot. @throws FaultError `missing` for an unknown id */
export function needLot(db: ReadDb, id: string) {
  const lot = lotRow(db, id);
  if (lot === undefined) throw missing('This lot does not exist any more. Go back to the rack.');
  return lot;
}

export type NeededLot = ReturnType<typeof needLot>;

/** A page of lots: of one item in the order they are drawn, of all items the newest first. */
export const lots: HandlerFor<'stock.lots'> = (ctx, input) => {
  const { rows, total } = lotPage(ctx.db, input);
  return { rows: rows.map(toLotRow), total };
};

/** One lot with every movement, newest first, and the knives that came out of it. */
export const lot: HandlerFor<'stock.lot'> = (ctx, { id }) => {
  const row = needLot(ctx.db, id);
  return {
    ...toLotRow(row),
    note: row.note,
    purchaseId: row.purchase_line_id === null ? null : (purchaseOfLine(ctx.db, row.purchase_line_id) ?? null),
    movements: movementRows(ctx.db, { lotId: id }, ALL).map(toMovement),
    builds: buildsOfLot(ctx.db, id),
  };
};

/** Changes where a lot lies and what is written on it; quantities move only by movements. */
export const moveLot: HandlerFor<'stock.moveLot'> = {
  run(ctx, { lotId, place, heatNumber, note, species, listing, origin, paperNumber }) {
    needWorkshop(ctx.db);
    const before = needLot(ctx.db, lotId);
    const columns = {
      place,
      heat_number: heatNumber,
      note,
      // Left out means left as it is.
      species: species ?? before.species,
      listing: listing ?? before.listing,
      origin: origin ?? before.origin,
      paper_number: paperNumber ?? before.paper_number,
    };
    ctx.db.run(ctx.db.q.updateTable('lots').set(columns).where('id', '=', lotId));
    return toLotRow(needLot(ctx.db, lotId));
  },
};

/** A page of the ledger, newest first. */
export const movements: HandlerFor<'stock.movements'> = (ctx, input) => ({
  rows: movementRows(ctx.db, input, input).map(toMovement),
  total: movementCount(ctx.db, input),
});

/** Looking up stocktakes and their lines. */
import { missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  lineRow,
  type LineRow,
  stocktakeRow,
  type StocktakeRow,
  stocktakeTagOf,
} from '../../storage/queries/stocktakes.ts';

/** A stocktake. @throws FaultError `missing` for an unknown id */
export function needStocktake(db: ReadDb, id: string): StocktakeRow {
  const row = stocktakeRow(db, id);
  if (row === undefined) throw missing('This stocktake does not exist any more. Go back to the list.');
  return row;
}

/** A stocktake that goes on. @throws FaultError `refused` when it ended */
export function needOpenStocktake(db: ReadDb, id: string): StocktakeRow {
  const row = needStocktake(db, id);
  if (row.state === 'open') return row;
  throw refused(
    `${stocktakeTagOf(row.number)} is ${row.state} and stays as it is. Start a new stocktake for a later day.`,
  );
}

/** A line of a stocktake that goes on, with it. */
export function needOpenLine(db: ReadDb, id: string): { line: LineRow; stocktake: StocktakeRow } {
  const line = lineRow(db, id);
  if (line === undefined) throw missing('This line is not on the sheet any more. Open the stocktake again.');
  return { line, stocktake: needOpenStocktake(db, line.stocktake_id) };
}

/** The places a stocktake counts; none is the whole workshop. */
export const placesOf = (row: Pick<StocktakeRow, 'places'>): readonly string[] =>
  JSON.parse(row.places) as string[];

/** True where lots of an item that lie together are counted as one, and not each lot by itself. */
export const countedTogether = (item: { readonly form: string; readonly costing: string }): boolean =>
  item.form !== 'length' && item.form !== 'area' && item.costing !== 'specific';

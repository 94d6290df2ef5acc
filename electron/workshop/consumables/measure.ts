/** What the maker's own last knives of a model took of a consumable, and how that is said. */
import { KNIVES_MEASURED, measured, type Measured } from '../../domain/ladder.ts';
import type { ReadDb } from '../../storage/db.ts';
import { openedByKnives } from '../../storage/queries/consumables.ts';
import { describer, type Measured as Sized } from '../stock/views.ts';

/** Measured use of an item by the last finished knives of a model; null where no opening says anything. */
export const measureOf = (db: ReadDb, modelId: string, itemId: string): Measured | null =>
  measured(openedByKnives(db, modelId, itemId, KNIVES_MEASURED).map((row) => row.qty));

const knives = (n: number): string => (n === 1 ? '1 knife' : `${n} knives`);

/** E.g. `0.31 ± 0.08 belts on the last 7 knives`; says when they are too few. */
export function measureWords(item: Sized, one: Measured | null): string {
  if (one === null) return 'No opening has been shared over a finished knife of this model yet.';
  if (!one.enough) return `Too few to say: ${knives(one.n)} measured, three are needed.`;
  // A mean of a few knives is not known to six digits.
  const write = (qty: number, digits: number): string => describer(item)(Number(qty.toPrecision(digits)));
  const spread = one.sd === null ? '' : ` ± ${write(one.sd, 2)}`;
  return `${write(one.qty, 3)}${spread} on the last ${knives(one.n)}.`;
}

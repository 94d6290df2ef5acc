/** What the maker's own last knives of a model took of a consumable, and how that is said. */
import { KNIVES_MEASURED, measured, type Measured } from '../../domain/ladder.ts';
import type { ReadDb } from '../../storage/db.ts';
import { openedByKnives } from '../../storage/queries/consumables.ts';
import { describer, type Measured as Sized } from '../stock/views.ts';

/** Measured use of an item by the last finished knives of a model; null where no opening says anything. */
export const measureOf = (db: ReadDb, modelId: string, itemId: string): Measured | null =>
  measured(openedByKnives(db, modelId, itemId, KNIVES_MEASURED).map((row) => row.qty));

const knives = (n: number): string => (n === 1 ? '1 knife' : `${n} knives`);

/** What a few knives tell is not known more closely than a hundredth of a piece, or three digits of anything else. */
const rounded = (form: string, qty: number): number =>
  form === 'piece' || form === 'pair' ? Math.round(qty / 10_000) * 10_000 : Number(qty.toPrecision(3));

/** E.g. `0.31 ± 0.08 belt on the last 7 knives`; says when they are too few. */
export function measureWords(item: Sized, one: Measured | null): string {
  if (one === null) return 'No opening has been shared over a finished knife of this model yet.';
  if (!one.enough) return `Too few to say: ${knives(one.n)} measured, three are needed.`;
  const write = describer(item);
  const [mean, spread] = [rounded(item.form, one.mean), rounded(item.form, one.sd ?? 0)];
  if (spread === 0) return `${write(mean)} on each of the last ${knives(one.n)}.`;
  const number = write(mean).replace(/ \D+$/, '');
  return `${number} ± ${write(spread)} on the last ${knives(one.n)}.`;
}

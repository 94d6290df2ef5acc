/** What a knife carries of an item never falls below nothing. */
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { carriedOfItem } from '../../storage/queries/consumables.ts';

/**
 * To be asked when something was taken back from knives: a count may have given them back part of it already.
 * @throws FaultError `refused` when a knife is left with less than nothing of the item
 */
export function demandNotBelowNothing(db: ReadDb, itemId: string, buildIds: readonly string[]): void {
  const short = carriedOfItem(db, itemId, buildIds).find((knife) => knife.value_micro < 0);
  if (short === undefined) return;
  throw refused(
    `A count gave ${short.serial} part of this back already, so it would cost less than nothing. Count again first, as it lies there now.`,
  );
}

/** Keeps what lists show as a knife's cost equal to what its cost sheet says. */
import { minorToMicro } from '../../domain/money.ts';
import type { WriteDb } from '../../storage/db.ts';
import { fixedStatement } from '../../storage/queries/insert.ts';
import { directCosts } from './direct.ts';
import { houseOf } from './house.ts';

const setCost = fixedStatement('UPDATE builds SET cost_micro = ? WHERE id = ?');

/**
 * Reckons the direct cost of knives anew and keeps it with them. To be called whenever something is booked on a knife
 * or taken back: a sum of exact values would stray from the sheet, which adds the lines as they are shown.
 */
export function restateCosts(db: WriteDb, buildIds: readonly string[]): void {
  const { decimals } = houseOf(db);
  for (const [id, { directMinor }] of directCosts(db, buildIds, decimals)) {
    db.run(setCost(minorToMicro(directMinor, decimals), id));
  }
}

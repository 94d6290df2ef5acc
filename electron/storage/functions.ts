/** What SQL statements of the house may call beside SQLite's own functions. Nothing stored depends on them. */
import type Database from 'better-sqlite3';
import { folded } from '../domain/folding.ts';

/** Adds `folded(text)`, one spelling whatever the case and accents in any script: SQLite itself folds A to Z alone. */
export function addFunctions(db: Database.Database): void {
  db.function('folded', { deterministic: true }, (text) => folded(typeof text === 'string' ? text : ''));
}

/** One way to ask the open books and the books of an archive the same question. */
import type Database from 'better-sqlite3';

/** Runs a SELECT written as text and answers every row. */
export type Ask = <R>(sql: string, ...values: readonly (string | number)[]) => R[];

/** Asks a file of books that was opened for reading. */
export const askingFile =
  (db: Database.Database): Ask =>
  <R>(sql: string, ...values: readonly (string | number)[]) =>
    db.prepare<unknown[], R>(sql).all(...values);

/** Closed years of the open books. Apart from the guard itself, so that opening them does not wait for what builds statements. */
import { CompiledQuery } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { Ask } from './ask.ts';
import { closedThroughOf, guardStatements } from './guard.ts';

/** Asks the open books. */
export const askingBooks =
  (db: ReadDb): Ask =>
  <R>(sql: string, ...values: readonly (string | number)[]) =>
    db.all<R>({ compile: () => CompiledQuery.raw(sql, [...values]) });

/** The last closed day; undefined while no year is closed. */
export const closedThrough = (db: ReadDb): string | undefined => closedThroughOf(askingBooks(db));

/** Brings the guard along within a command that closed a year or opened one again. */
export function moveGuard(db: WriteDb): void {
  for (const text of guardStatements(askingBooks(db))) db.run({ compile: () => CompiledQuery.raw(text) });
}

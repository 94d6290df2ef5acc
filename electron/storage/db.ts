/**
 * Read and write handles on the open books.
 * Kysely builds and types the SQL; better-sqlite3 runs it synchronously, so that one use-case is one
 * uninterrupted transaction and no query pays for a promise per statement.
 */
import type { Compilable, Kysely } from 'kysely';
import type { Tables } from './schema.ts';

declare const writable: unique symbol;

/** May only read. Functions that only look take this, and cannot be given more by mistake. */
export interface ReadDb {
  /** Builds typed statements; never executes anything by itself. */
  readonly q: Kysely<Tables>;
  /** Runs a SELECT and answers every row. */
  all<R>(statement: Compilable<R>): R[];
  /** Runs a SELECT and answers its first row, if any. */
  one<R>(statement: Compilable<R>): R | undefined;
}

/** May write. Exists only inside a command's transaction. */
export interface WriteDb extends ReadDb {
  /** Runs an INSERT, UPDATE or DELETE and answers how many rows it changed. */
  run(statement: Compilable): number;
  readonly [writable]: true;
}

/** The `ReadDb` and `WriteDb` of `db.ts` on an open better-sqlite3 connection. */
import type Database from 'better-sqlite3';
import type { Compilable } from 'kysely';
import type { ReadDb, WriteDb } from './db.ts';

/** Prepared statements kept; lists of ids make many spellings, so there must be a limit. */
const KEPT_STATEMENTS = 500;

type Prepare = (sql: string) => Database.Statement;

function cachingPrepare(db: Database.Database): Prepare {
  const kept = new Map<string, Database.Statement>();
  return (sql) => {
    const found = kept.get(sql);
    if (found) return found;
    const made = db.prepare(sql);
    const oldest = kept.size >= KEPT_STATEMENTS ? kept.keys().next() : undefined;
    if (oldest?.done === false) kept.delete(oldest.value);
    kept.set(sql, made);
    return made;
  };
}

/** SQLite has no truth values; the tables hold 0 and 1. */
const bindable = (value: unknown): unknown => (typeof value === 'boolean' ? Number(value) : value);

function reader(q: ReadDb['q'], prepare: Prepare, mayWrite: boolean): ReadDb {
  const ready = (statement: Compilable): { run: Database.Statement; values: unknown[] } => {
    const { sql, parameters } = statement.compile();
    const run = prepare(sql);
    if (!mayWrite && !run.readonly) throw new Error(`A query tried to change the books: ${sql}`);
    return { run, values: parameters.map(bindable) };
  };
  return {
    q,
    all<R>(statement: Compilable<R>) {
      const { run, values } = ready(statement);
      return run.all(...values) as R[];
    },
    one<R>(statement: Compilable<R>) {
      const { run, values } = ready(statement);
      return run.get(...values) as R | undefined;
    },
  };
}

/** The two handles on one connection; they share its prepared statements. */
export interface Handles {
  readonly read: ReadDb;
  /** To be handed out only inside a transaction. */
  readonly write: WriteDb;
  /** Has the shape of `write` and throws at any write. */
  readonly unwritable: WriteDb;
}

/**
 * Makes the handles. A statement that would write is refused by `read`.
 * @param q what builds the statements
 */
export function makeHandles(db: Database.Database, q: ReadDb['q']): Handles {
  const prepare = cachingPrepare(db);
  const run = (statement: Compilable): number => {
    const { sql, parameters } = statement.compile();
    return prepare(sql).run(...parameters.map(bindable)).changes;
  };
  const refuse: typeof run = () => {
    throw new Error('A command tried to write before its transaction');
  };
  const read = reader(q, prepare, false);
  return {
    read,
    write: { ...reader(q, prepare, true), run } as WriteDb,
    unwritable: { ...read, run: refuse } as WriteDb,
  };
}

/** Bringing the books to the shape this program works with, one numbered step at a time. */
import type Database from 'better-sqlite3';
import { failpoint } from './failpoint.ts';

/** One frozen step: plain SQL that turns the shape before it into the shape `number`. */
export interface Migration {
  /** Steps of ten, strictly rising; becomes the file's `user_version`. */
  readonly number: number;
  readonly name: string;
  readonly sql: string;
}

/** Gap between two numbers, so that a repair can be put in between. */
const STEP = 10;

/** @throws Error when the list is not strictly rising in steps of ten */
export function assertOrder(list: readonly Migration[]): void {
  let before = 0;
  for (const { number, name } of list) {
    if (!Number.isInteger(number) || number % STEP !== 0 || number <= before) {
      throw new Error(`Migration ${number} (${name}) must be a multiple of ${STEP} above ${before}`);
    }
    before = number;
  }
}

/** The shape a list of migrations leads to. */
export const newestShape = (list: readonly Migration[]): number => list.at(-1)?.number ?? 0;

/** The shape the books have now. */
export const shapeOf = (db: Database.Database): number => Number(db.pragma('user_version', { simple: true }));

function applyOne(db: Database.Database, migration: Migration): void {
  const step = db.transaction(() => {
    db.exec(migration.sql);
    failpoint(`migrate.${migration.number}.sql`);
    const broken = db.prepare('PRAGMA foreign_key_check').all();
    if (broken.length > 0)
      throw new Error(`Migration ${migration.number} leaves ${broken.length} rows without their parent`);
    db.pragma(`user_version = ${migration.number}`);
    failpoint(`migrate.${migration.number}.version`);
  });
  step.immediate();
  failpoint(`migrate.${migration.number}.done`);
}

/**
 * Applies every step above the books' present shape, each in one transaction with its number.
 * A step that fails leaves the books in the shape before it.
 * @returns how many steps were applied
 */
export function migrate(db: Database.Database, list: readonly Migration[]): number {
  assertOrder(list);
  const due = list.filter((each) => each.number > shapeOf(db));
  if (due.length === 0) return 0;
  // Rebuilding a table drops the old one; with foreign keys on, that would empty the tables that point to it.
  db.pragma('foreign_keys = 0');
  try {
    for (const each of due) applyOne(db, each);
  } finally {
    db.pragma('foreign_keys = 1');
  }
  return due.length;
}

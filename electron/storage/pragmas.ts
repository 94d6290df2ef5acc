/** Settings every connection to the books must have, set and read back at every open. */
import type Database from 'better-sqlite3';

/** How long a statement waits for another program's lock, in milliseconds. */
export const BUSY_TIMEOUT_MS = 5000;

/**
 * WAL + FULL: each commit is on the disk before it is acknowledged (the driver's own default on
 * re-opening is NORMAL, which is not). Checkpoints are the core's business, so that no command pays for one.
 * At most 64 MiB of pages are kept at hand: years of a busy workshop are then read once and not again for every question.
 */
const wantedPragmas = {
  journal_mode: 'wal',
  synchronous: 2,
  foreign_keys: 1,
  trusted_schema: 0,
  cell_size_check: 1,
  mmap_size: 0,
  cache_size: -65_536,
  wal_autocheckpoint: 0,
  checkpoint_fullfsync: 1,
  busy_timeout: BUSY_TIMEOUT_MS,
} as const;

/** The settings that change nothing in the file; for a first look at a file that may not be ours. */
export function setHarmlessPragmas(db: Database.Database): void {
  for (const [name, value] of Object.entries(wantedPragmas)) {
    if (name !== 'journal_mode') db.pragma(`${name} = ${value}`);
  }
}

/** Reads every wanted setting back, in one object that compares equal to `wantedPragmas` when all hold. */
export function readPragmas(db: Database.Database): Record<string, unknown> {
  const names = Object.keys(wantedPragmas);
  return Object.fromEntries(names.map((name) => [name, db.pragma(name, { simple: true })]));
}

/** True when the file's schema cannot be edited as data (SQLite's defensive mode). */
export function isDefensive(db: Database.Database): boolean {
  db.pragma('writable_schema = 1');
  const open = db.pragma('writable_schema', { simple: true });
  db.pragma('writable_schema = 0');
  return Number(open) === 0;
}

/** Sets every wanted setting and throws when one did not take. */
export function setPragmas(db: Database.Database): void {
  db.pragma(`journal_mode = ${wantedPragmas.journal_mode}`);
  setHarmlessPragmas(db);
  const got = readPragmas(db);
  for (const [name, value] of Object.entries(wantedPragmas)) {
    if (got[name] !== value)
      throw new Error(`The database setting ${name} is ${String(got[name])}, wanted ${value}`);
  }
  if (!isDefensive(db)) throw new Error('The database is not in defensive mode');
}

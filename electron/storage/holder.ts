/**
 * Who has the workshop folder open.
 * The lock is an exclusive SQLite transaction on a small file of its own: the operating system takes it
 * away when the process ends, however it ends, so nothing has to be cleaned up after a crash.
 */
import fs from 'node:fs';
import Database from 'better-sqlite3';
import { inWords, type WorkshopFolder } from './folder.ts';
import { asTrouble, StorageTrouble } from './trouble.ts';

/** How a program introduces itself to a second one that finds the folder taken. */
export interface Holder {
  /** As a person would call it, e.g. "Knifewright in the browser". */
  readonly name: string;
  readonly kind: string;
  readonly pid: number;
  /** UTC ISO instant. */
  readonly since: string;
}

export interface Held {
  /** Lets go of the folder. */
  release(): void;
}

/** Locks of this process. A connection nobody refers to is closed by the garbage collector, and its lock with it. */
const locks = new Set<Database.Database>();

function lock(file: string): Database.Database {
  const db = new Database(file, { timeout: 0 });
  try {
    db.pragma('locking_mode = EXCLUSIVE');
    db.pragma('journal_mode = MEMORY');
    db.exec('BEGIN EXCLUSIVE');
    // By path, not by handle: closing a handle on the file would drop the lock just taken.
    fs.chmodSync(file, 0o600);
    locks.add(db);
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function unlock(db: Database.Database): void {
  locks.delete(db);
  db.close();
}

/** Reads the side file; undefined when it is missing or unreadable (the lock is what counts). */
function readHolder(folder: WorkshopFolder): Holder | undefined {
  try {
    const value: unknown = JSON.parse(fs.readFileSync(folder.holder, 'utf8'));
    return isHolder(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

function isHolder(value: unknown): value is Holder {
  if (typeof value !== 'object' || value === null) return false;
  const { name, kind, pid, since } = value as Partial<Record<keyof Holder, unknown>>;
  return (
    typeof name === 'string' &&
    typeof kind === 'string' &&
    typeof pid === 'number' &&
    typeof since === 'string'
  );
}

function heldBy(folder: WorkshopFolder): StorageTrouble {
  const holder = readHolder(folder);
  const who = holder
    ? `${holder.name} (${holder.kind}, process ${holder.pid}, since ${inWords(holder.since)})`
    : 'another program, which has not said its name';
  return new StorageTrouble(
    'held',
    `This workshop is already open in ${who}. Use it there, or close it there first.`,
  );
}

/**
 * Takes the folder for this process.
 * @throws StorageTrouble `held`, naming the holder, when another program (or another part of this one) has it
 */
export function hold(folder: WorkshopFolder, holder: Holder): Held {
  let db: Database.Database;
  try {
    db = lock(folder.lock);
  } catch (error) {
    const trouble = asTrouble(error);
    throw trouble?.why === 'busy' ? heldBy(folder) : (trouble ?? error);
  }
  try {
    fs.writeFileSync(folder.holder, JSON.stringify(holder), { mode: 0o600 });
  } catch (error) {
    unlock(db);
    throw asTrouble(error) ?? error;
  }
  return {
    release() {
      fs.rmSync(folder.holder, { force: true });
      unlock(db);
    },
  };
}

/** Making and opening a workshop's books, guarded: what is not ours, not whole or too new is left as it is. */
import fs from 'node:fs';
import Database from 'better-sqlite3';
import { listCopies, makeSafetyCopy } from './backups.ts';
import { syncFile, syncFolder } from './durable.ts';
import { companions, examineCopyOf, examineOpen, type Finding } from './examine.ts';
import { failpoint } from './failpoint.ts';
import { holdsRemains, inWords, makeFolders, sizeOf, type WorkshopFolder } from './folder.ts';
import { APPLICATION_ID, lookAtHeader } from './header.ts';
import { type Held, hold, type Holder } from './holder.ts';
import { assertOrder, type Migration, migrate, newestShape, shapeOf } from './migrate.ts';
import { BUSY_TIMEOUT_MS, setHarmlessPragmas, setPragmas } from './pragmas.ts';
import { finishRestore } from './restore.ts';
import { guardOpened } from './seal/guard.ts';
import { addFunctions } from './functions.ts';
import { asTrouble, StorageTrouble } from './trouble.ts';

/** What opening needs besides the folder. */
export interface OpenOptions {
  readonly migrations: readonly Migration[];
  readonly holder: Holder;
  /** UTC ISO instant, for the name of the copy made before migrating. */
  readonly now: string;
}

/** An open connection to the live books and the lock on their folder. */
export interface OpenConnection {
  readonly db: Database.Database;
  readonly held: Held;
}

const nothingChanged = 'Nothing was changed.';

function refusal(folder: WorkshopFolder, why: 'missing' | 'empty' | 'foreign'): StorageTrouble {
  const sentences = {
    missing: `There is no workshop in ${folder.root}. Choose another folder, or make a new workshop there.`,
    empty: `The books in ${folder.root} are an empty file. ${nothingChanged} Go back to a safety copy, or choose another folder.`,
    foreign: `The file workshop.db in ${folder.root} was not made by Knifewright. ${nothingChanged} Choose another folder.`,
  };
  return new StorageTrouble(why, sentences[why]);
}

function tooNew(folder: WorkshopFolder, shape: number, newest: number): StorageTrouble {
  return new StorageTrouble(
    'newer',
    `The books in ${folder.root} were last opened with a newer Knifewright (books version ${shape}; this one reads up to ${newest}). ${nothingChanged} Install the newer Knifewright to open them.`,
  );
}

function damaged(folder: WorkshopFolder, problem: string): StorageTrouble {
  const newest = listCopies(folder)[0];
  const way = newest
    ? `The newest checked safety copy is ${newest.name} of ${inWords(newest.at)}; go back to it.`
    : 'There is no checked safety copy in this folder; look for one on another disk.';
  return new StorageTrouble(
    'damaged',
    `The books in ${folder.root} are damaged (${problem}). ${nothingChanged} ${way}`,
  );
}

function demand(folder: WorkshopFolder, finding: Finding, newest: number): void {
  if (!finding.sound) throw damaged(folder, finding.problem);
  if (finding.shape > newest) throw tooNew(folder, finding.shape, newest);
}

/** True when the folder has books, or is in the middle of getting them back from a safety copy. */
export const hasBooks = (folder: WorkshopFolder): boolean =>
  sizeOf(folder.books) !== undefined || fs.existsSync(folder.restoreNote);

/** Everything that can be found out before this process opens the file. */
function checkBeforeOpening(folder: WorkshopFolder, newest: number): void {
  const look = lookAtHeader(folder.books);
  if (look.kind !== 'books') throw refusal(folder, look.kind);
  if (look.shape > newest) throw tooNew(folder, look.shape, newest);
  const unfinished = companions.some(
    (end) => end !== '' && end !== '-shm' && (sizeOf(folder.books + end) ?? 0) > 0,
  );
  if (unfinished) demand(folder, examineCopyOf(folder.books), newest);
}

/**
 * Makes new, empty books. They appear under their name only when they are whole.
 * @throws StorageTrouble `exists` when there are books already, or papers and copies whose books are gone
 */
export function createBooks(folder: WorkshopFolder, options: OpenOptions): void {
  if (hasBooks(folder)) {
    throw new StorageTrouble(
      'exists',
      `There is already a file workshop.db in ${folder.root}. Open it, or choose another folder.`,
    );
  }
  if (holdsRemains(folder)) {
    throw new StorageTrouble(
      'exists',
      `The folder ${folder.root} holds papers or safety copies, but its books are gone. Go back to a safety copy, or choose another folder.`,
    );
  }
  withTrouble(() => {
    makeFolders(folder);
    const held = hold(folder, options.holder);
    try {
      if (!hasBooks(folder)) build(folder, options.migrations);
    } finally {
      held.release();
    }
  });
}

function build(folder: WorkshopFolder, migrations: readonly Migration[]): void {
  for (const end of companions) fs.rmSync(folder.making + end, { force: true });
  fs.closeSync(fs.openSync(folder.making, 'wx', 0o600));
  const db = new Database(folder.making, { fileMustExist: true });
  try {
    setHarmlessPragmas(db);
    db.pragma(`application_id = ${APPLICATION_ID}`);
    migrate(db, migrations);
  } finally {
    db.close();
  }
  syncFile(folder.making);
  failpoint('create.made');
  fs.renameSync(folder.making, folder.books);
  syncFolder(folder.root);
  failpoint('create.done');
}

function withTrouble<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw asTrouble(error) ?? error;
  }
}

/** Takes the folder; leaves no lock file behind in a folder that turns out not to be ours. */
function holdFor<T>(folder: WorkshopFolder, holder: Holder, work: (held: Held) => T): T {
  const lockWasThere = sizeOf(folder.lock) !== undefined;
  const held = hold(folder, holder);
  try {
    return work(held);
  } catch (error) {
    if (!lockWasThere) fs.rmSync(folder.lock, { force: true });
    held.release();
    throw error;
  }
}

function connect(folder: WorkshopFolder, newest: number): Database.Database {
  const db = new Database(folder.books, { fileMustExist: true, timeout: BUSY_TIMEOUT_MS });
  try {
    setHarmlessPragmas(db);
    demand(folder, examineOpen(db, 'quick'), newest);
    setPragmas(db);
    addFunctions(db);
    return db;
  } catch (error) {
    db.close();
    const trouble = asTrouble(error);
    // A page too broken even to ask about: the driver's own words, with the way back to a safety copy.
    if (trouble?.why === 'damaged' && trouble !== error)
      throw damaged(folder, trouble.cause instanceof Error ? trouble.cause.message : '');
    throw error;
  }
}

async function bringUpToDate(
  db: Database.Database,
  folder: WorkshopFolder,
  options: OpenOptions,
): Promise<void> {
  if (shapeOf(db) === newestShape(options.migrations)) return;
  await makeSafetyCopy(db, folder, { at: options.now, reason: 'before-migration' });
  migrate(db, options.migrations);
  // The header on the disk must say the new shape, or an older program would not see that the books are newer.
  db.pragma('wal_checkpoint(TRUNCATE)');
  failpoint('migrate.checkpointed');
  setPragmas(db);
}

/**
 * Opens existing books: header, lock, unfinished business of a crash, soundness, settings, migrations.
 * @throws StorageTrouble with a sentence; the file is then exactly as it was
 */
export async function openBooks(folder: WorkshopFolder, options: OpenOptions): Promise<OpenConnection> {
  assertOrder(options.migrations);
  const newest = newestShape(options.migrations);
  if (!hasBooks(folder)) throw refusal(folder, 'missing');
  if (sizeOf(folder.books) === 0) throw refusal(folder, 'empty');
  const open = withTrouble(() =>
    holdFor(folder, options.holder, (held) => {
      finishRestore(folder);
      checkBeforeOpening(folder, newest);
      makeFolders(folder);
      return { db: connect(folder, newest), held };
    }),
  );
  try {
    await bringUpToDate(open.db, folder, options);
    guardOpened(open.db);
    return open;
  } catch (error) {
    open.db.close();
    open.held.release();
    throw asTrouble(error) ?? error;
  }
}

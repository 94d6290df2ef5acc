/** The open books: reading, one write transaction at a time, safety copies, and a clean close. */
import {
  type CopyReason,
  listCopies,
  makeSafetyCopy,
  makeSingleFile,
  type SafetyCopyRecord,
  thinCopies,
} from './backups.ts';
import type { ReadDb, WriteDb } from './db.ts';
import { failpoint } from './failpoint.ts';
import { sizeOf, type WorkshopFolder } from './folder.ts';
import { type Handles, makeHandles } from './handles.ts';
import { type KeptPapers, openKeptPapers } from './kept-papers.ts';
import {
  appendEntry,
  type ChainCheck,
  checkChain,
  journalHead,
  lastChange,
  type NewEntry,
} from './journal.ts';
import { openBooks, type OpenConnection, type OpenOptions } from './open.ts';
import { isDefensive, readPragmas } from './pragmas.ts';
import { copyIsDue } from './thinning.ts';

/** The write-ahead log is folded into the books when it has grown to this size. */
const FOLD_AT_BYTES = 4 << 20;

/** Pages copied between two calls that are let in. */
const PAGES_PER_STEP = 500;

/** Commands that are noted in the journal but leave the books as they were. */
const harmlessCommands: readonly string[] = ['workshop.copyNow'];

export interface Books {
  readonly folder: WorkshopFolder;
  readonly read: ReadDb;
  /** For a command before its transaction: reads, and throws at any write. */
  readonly unwritable: WriteDb;
  /** Papers whose bytes lie in the books until their files are flushed. */
  readonly papers: KeptPapers;
  /** Number of the last journal entry. */
  seq(): number;
  /**
   * Runs work and its journal entry in one transaction: both are on the disk when this returns, or neither.
   * @throws whatever the work throws, after rolling back
   */
  write<T>(entry: NewEntry, work: (db: WriteDb) => T): T;
  /** Folds a grown write-ahead log into the books, papers first; call it between commands. */
  foldIfGrown(): void;
  copies(): readonly SafetyCopyRecord[];
  /** Makes a verified safety copy and thins the older ones. Nothing may write meanwhile. */
  copyNow(at: string, reason: CopyReason): Promise<SafetyCopyRecord>;
  /** Copies the books as they stand into a new file of its own; calls may go on meanwhile. */
  copyTo(file: string): Promise<void>;
  /** Checks every journal entry. */
  checkJournal(): ChainCheck;
  /** The connection's settings as they are; `defensive` is whether the schema is safe from being edited as data. */
  settings(): Record<string, unknown>;
  /** Makes the day's safety copy when one is due, folds the log, lets go of the folder. */
  close(now: string): Promise<void>;
}

/** Opening, and who wants to hear of it early. */
export interface OpeningOptions extends OpenOptions {
  /** Called as soon as the books stand open and sound, before what works on them is loaded. */
  readonly onOpen?: () => void;
}

/** Loads what builds the statements; books that cannot be worked on are let go of again. */
async function handlesOn({ db, held }: OpenConnection): Promise<Handles> {
  try {
    const { builder } = await import('./builder.ts');
    return makeHandles(db, builder);
  } catch (error) {
    db.close();
    held.release();
    throw error;
  }
}

/** Nothing is lost by a failure here: the papers stay in the books, and the next opening tries again. */
function settleIfPossible(papers: KeptPapers): void {
  try {
    papers.settle();
  } catch {
    // See above.
  }
}

async function copyBooks(db: OpenConnection['db'], file: string): Promise<void> {
  await db.backup(file, { progress: () => PAGES_PER_STEP });
  makeSingleFile(file);
}

function fold(db: OpenConnection['db'], papers: KeptPapers): void {
  settleIfPossible(papers);
  db.pragma('wal_checkpoint(TRUNCATE)');
}

/**
 * Opens the books of a folder.
 * @throws StorageTrouble with a sentence that says what to do
 */
export async function open(folder: WorkshopFolder, options: OpeningOptions): Promise<Books> {
  const connection = await openBooks(folder, options);
  const { db, held } = connection;
  let head = journalHead(db);
  options.onOpen?.();
  const handles = await handlesOn(connection);
  const papers = openKeptPapers(db, folder);

  const copyNow = async (at: string, reason: CopyReason): Promise<SafetyCopyRecord> => {
    const record = await makeSafetyCopy(db, folder, { at, reason });
    thinCopies(folder);
    return record;
  };
  const copyIfDue = async (now: string): Promise<void> => {
    const newest = listCopies(folder)[0];
    const changed = lastChange(db, harmlessCommands) > (newest?.seq ?? 0);
    if (changed && copyIsDue(now, newest?.at)) await copyNow(now, 'closing');
  };

  return {
    folder,
    read: handles.read,
    unwritable: handles.unwritable,
    papers,
    seq: () => head.seq,
    write(entry, work) {
      const commit = db.transaction(() => {
        const value = work(handles.write);
        failpoint('command.worked');
        const next = appendEntry(db, head, entry);
        failpoint('command.journalled');
        return { value, next };
      });
      const { value, next } = commit.immediate();
      head = next;
      failpoint('command.committed');
      return value;
    },
    foldIfGrown() {
      if (db.open && (sizeOf(`${folder.books}-wal`) ?? 0) > FOLD_AT_BYTES) fold(db, papers);
    },
    copies: () => listCopies(folder),
    copyNow,
    copyTo: (file) => copyBooks(db, file),
    checkJournal: () => checkChain(db),
    settings: () => ({ ...readPragmas(db), defensive: isDefensive(db) }),
    async close(now) {
      settleIfPossible(papers);
      try {
        await copyIfDue(now);
        db.pragma('optimize');
        db.pragma('wal_checkpoint(TRUNCATE)');
      } finally {
        db.close();
        held.release();
      }
    },
  };
}

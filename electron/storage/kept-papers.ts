/**
 * Papers on their way to the disk. The transaction that issues a paper keeps its bytes in the books, so the books' own
 * flush is the only one its person waits for. The file is written right after, unflushed. Later, off the reply's path,
 * file and folder are flushed, and only then do the books let go of the bytes. Whatever a crash or a power cut leaves
 * in the folder in between, missing or broken, is written anew from the books at the next opening.
 */
import fs from 'node:fs';
import path from 'node:path';
import type Database from 'better-sqlite3';
import type { WriteDb } from './db.ts';
import { holds, makePrivateFolder, syncFile, syncFolder, writeUnflushed } from './durable.ts';
import { failpoint } from './failpoint.ts';
import type { WorkshopFolder } from './folder.ts';
import type { KeptBytesTable } from './schema-selling.ts';

export interface KeptPapers {
  /** Keeps a paper in the transaction at hand; the same bytes at the same place stand once. */
  add(db: WriteDb, paper: KeptBytesTable): void;
  /** Hash of the paper that waits for this place, if one does. */
  hashOf(relative: string): string | undefined;
  /** The bytes of a paper that still lies in the books. */
  find(relative: string, hash: string): Uint8Array | undefined;
  /** Writes the files of papers kept since the last call and committed; flushes nothing. */
  writeOut(): void;
  /**
   * Sees that every paper in the books lies in its file, flushes file and folder and lets go of the bytes.
   * Call it between commands. What cannot be written stays in the books. @throws the first error, after the rest
   */
  settle(): void;
}

type Named = Pick<KeptBytesTable, 'path' | 'sha256'>;

/** True for what a power cut leaves of an unflushed paper: its beginning, or zeros where nothing was written yet. */
const isRemainsOf = (found: Uint8Array, bytes: Uint8Array): boolean =>
  found.length <= bytes.length && found.every((byte, at) => byte === 0 || byte === bytes[at]);

/** Moves what lies at a paper's place and is nothing of that paper out of the way: it may be somebody's own. */
function setAside(file: string, bytes: Uint8Array): void {
  if (isRemainsOf(fs.readFileSync(file), bytes)) return;
  const { dir, name, ext } = path.parse(file);
  let aside = file;
  for (let n = 2; fs.existsSync(aside); n += 1) aside = path.join(dir, `${name} (${n})${ext}`);
  fs.renameSync(file, aside);
}

function write(file: string, { sha256, bytes }: KeptBytesTable): void {
  if (holds(file, sha256)) return;
  makePrivateFolder(path.dirname(file));
  if (fs.existsSync(file)) setAside(file, bytes);
  writeUnflushed(file, bytes);
}

/** Flushes a file; one that could not be flushed goes, as the system may call it clean the next time without reason. */
function flush(file: string): void {
  try {
    syncFile(file);
  } catch (error) {
    fs.rmSync(file, { force: true });
    throw error;
  }
}

/** The rows of papers that wait. Prepared when needed: books of an older shape, opened for looking, have no such table. */
const rowsIn = (db: Database.Database) => ({
  one: (relative: string): KeptBytesTable | undefined =>
    db
      .prepare<[string], KeptBytesTable>('SELECT path, sha256, bytes FROM kept_bytes WHERE path = ?')
      .get(relative),
  hash: (relative: string): string | undefined =>
    db.prepare<[string], Named>('SELECT path, sha256 FROM kept_bytes WHERE path = ?').get(relative)?.sha256,
  all: (): Named[] =>
    db.open ? db.prepare<[], Named>('SELECT path, sha256 FROM kept_bytes ORDER BY rowid').all() : [],
  drop(rows: readonly Named[]): void {
    const statement = db.prepare<[string]>('DELETE FROM kept_bytes WHERE path = ?');
    const dropAll = db.transaction(() => {
      for (const { path: relative } of rows) statement.run(relative);
    });
    dropAll.immediate();
  },
});

/** Does work on each row; answers those it was done for, with the first thing that went wrong. */
function tryEach(rows: readonly Named[], work: (row: Named) => void): { done: Named[]; error?: unknown } {
  const done: Named[] = [];
  let failure: { error: unknown } | undefined;
  for (const row of rows) {
    try {
      work(row);
      done.push(row);
    } catch (error) {
      failure ??= { error };
    }
  }
  return { done, ...failure };
}

/** Opens the papers that wait in the books. @param db the open books */
export function openKeptPapers(db: Database.Database, folder: WorkshopFolder): KeptPapers {
  const { one, hash, all, drop } = rowsIn(db);
  /** Kept since the last writing out; a transaction that was rolled back leaves no row behind its name. */
  const fresh = new Set<string>();
  const fileOf = (relative: string): string => path.join(folder.root, ...relative.split('/'));
  const writeOne = (relative: string): void => {
    const row = one(relative);
    if (row !== undefined) write(fileOf(relative), row);
  };

  return {
    add(to, paper) {
      to.run(
        to.q
          .insertInto('kept_bytes')
          .values(paper)
          .onConflict((same) => same.doNothing()),
      );
      fresh.add(paper.path);
    },
    hashOf: hash,
    find(relative, sha256) {
      const row = one(relative);
      return row?.sha256 === sha256 ? row.bytes : undefined;
    },
    writeOut() {
      const names = [...fresh];
      fresh.clear();
      for (const name of names) writeOne(name);
      if (names.length > 0) failpoint('papers.written');
    },
    settle() {
      const { done, ...failure } = tryEach(all(), (row) => {
        writeOne(row.path);
        flush(fileOf(row.path));
      });
      if (done.length > 0) {
        syncFolder(folder.documents);
        syncFolder(folder.root);
        failpoint('papers.flushed');
        drop(done);
        failpoint('papers.dropped');
      }
      if ('error' in failure) throw failure.error;
    },
  };
}

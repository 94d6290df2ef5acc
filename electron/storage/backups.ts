/** Safety copies: made of the live books, read back and checked before they count, thinned with age. */
import fs from 'node:fs';
import path from 'node:path';
import Database from 'better-sqlite3';
import { sha256OfFile, syncFile, syncFolder, writeDurably } from './durable.ts';
import { examineFile } from './examine.ts';
import { failpoint } from './failpoint.ts';
import type { WorkshopFolder } from './folder.ts';
import { type Difference, heldAgainst } from './held-against.ts';
import { journalHead, wasHead } from './journal.ts';
import { copiesToDrop } from './thinning.ts';
import { StorageTrouble } from './trouble.ts';

/** Why a copy was made. Those before something risky are not thinned. */
export type CopyReason = 'asked' | 'closing' | 'before-migration' | 'replaced' | 'brought';

/** A safety copy that was read back and found sound; the content of its side file. */
export interface SafetyCopyRecord {
  readonly name: string;
  /** UTC ISO instant. */
  readonly at: string;
  readonly reason: CopyReason;
  readonly bytes: number;
  readonly sha256: string;
  /** Shape of the books inside (`user_version`). */
  readonly shape: number;
  readonly seq: number;
  readonly headHash: string;
  /** How it compares with the copy before of the same books; absent when there was none to hold it against. */
  readonly heldAgainst?: HeldAgainst;
}

/** An earlier copy, and the rows that differ from it though nobody may change them. */
export interface HeldAgainst extends Difference {
  readonly name: string;
  /** UTC ISO instant. */
  readonly at: string;
}

/** Whether a copy holds what the copy before held: nothing that may not change has. */
export const isTrue = (copy: SafetyCopyRecord): boolean => (copy.heldAgainst?.count ?? 0) === 0;

const END = '.db';
const SIDE_END = '.json';
const PART_END = '.part';
const PAGES_PER_STEP = 5000;

const isPinned = (reason: CopyReason): boolean =>
  reason === 'before-migration' || reason === 'replaced' || reason === 'brought';

/** `books-20240706T093000-00000042.db`; a counter follows when the name is taken. */
function freshName(folder: WorkshopFolder, at: string, seq: number): string {
  const stem = `books-${at.slice(0, 19).replaceAll(/[-:]/g, '')}-${String(seq).padStart(8, '0')}`;
  const taken = (name: string) => fs.existsSync(path.join(folder.backups, name));
  let name = stem + END;
  for (let n = 2; taken(name); n += 1) name = `${stem}-${n}${END}`;
  return name;
}

/** A copy is one file: no companions to lose, nothing created beside it when it is opened for reading. */
export function makeSingleFile(file: string): void {
  const db = new Database(file, { fileMustExist: true });
  try {
    db.pragma('journal_mode = DELETE');
  } finally {
    db.close();
  }
}

function dropParts(folder: WorkshopFolder): void {
  for (const name of fs.readdirSync(folder.backups)) {
    if (name.includes(PART_END)) fs.rmSync(path.join(folder.backups, name), { force: true });
  }
}

/** Reads a finished copy back and describes it. @throws StorageTrouble when it is not sound */
export function describeCopy(file: string, name: string, at: string, reason: CopyReason): SafetyCopyRecord {
  const finding = examineFile(file);
  if (!finding.sound) {
    throw new StorageTrouble(
      'damaged',
      `The safety copy could not be read back (${finding.problem}). Check the disk and try again.`,
    );
  }
  const { shape, head } = finding;
  const bytes = fs.statSync(file).size;
  return { name, at, reason, bytes, sha256: sha256OfFile(file), shape, seq: head.seq, headHash: head.hash };
}

/** Writes the side file that makes a copy count as verified. */
export function writeSideFile(folder: WorkshopFolder, record: SafetyCopyRecord): void {
  const name = record.name.slice(0, -END.length) + SIDE_END;
  writeDurably(path.join(folder.backups, name), `${JSON.stringify(record, null, 2)}\n`);
}

/** The newest copy that the books grew out of, still as it was when it was checked. */
function copyBefore(
  db: Database.Database,
  folder: WorkshopFolder,
  shape: number,
): SafetyCopyRecord | undefined {
  return listCopies(folder).find(
    (copy) =>
      // Books that were set aside may be those that went wrong.
      copy.reason !== 'replaced' &&
      copy.shape === shape &&
      isTrue(copy) &&
      wasHead(db, { seq: copy.seq, hash: copy.headHash }) &&
      sha256OfFile(path.join(folder.backups, copy.name)) === copy.sha256,
  );
}

/** Holds a finished copy against the one before it. */
function compared(
  db: Database.Database,
  folder: WorkshopFolder,
  part: string,
  record: SafetyCopyRecord,
): SafetyCopyRecord {
  const before = copyBefore(db, folder, record.shape);
  if (before === undefined) return record;
  const difference = heldAgainst(part, path.join(folder.backups, before.name));
  return { ...record, heldAgainst: { name: before.name, at: before.at, ...difference } };
}

/** What a copy is made from and for. */
export interface CopyOrder {
  /** UTC ISO instant. */
  readonly at: string;
  readonly reason: CopyReason;
}

/**
 * Copies the open books into `backups/`: temporary name, flush, read back in full, rename, side file.
 * Nothing may write to the books meanwhile.
 * @throws StorageTrouble when the disk is full or the copy does not read back
 */
export async function makeSafetyCopy(
  db: Database.Database,
  folder: WorkshopFolder,
  order: CopyOrder,
): Promise<SafetyCopyRecord> {
  dropParts(folder);
  const name = freshName(folder, order.at, journalHead(db).seq);
  const file = path.join(folder.backups, name);
  const part = file + PART_END;
  try {
    fs.closeSync(fs.openSync(part, 'wx', 0o600));
    await db.backup(part, { progress: () => PAGES_PER_STEP });
    failpoint('copy.written');
    makeSingleFile(part);
    syncFile(part);
    failpoint('copy.flushed');
    const record = compared(db, folder, part, describeCopy(part, name, order.at, order.reason));
    failpoint('copy.verified');
    fs.renameSync(part, file);
    syncFolder(folder.backups);
    failpoint('copy.renamed');
    writeSideFile(folder, record);
    failpoint('copy.done');
    return record;
  } catch (error) {
    fs.rmSync(part, { force: true });
    throw error;
  }
}

function readSideFile(file: string): SafetyCopyRecord | undefined {
  try {
    const value = JSON.parse(fs.readFileSync(file, 'utf8')) as SafetyCopyRecord;
    return typeof value.name === 'string' && typeof value.sha256 === 'string' ? value : undefined;
  } catch {
    return undefined;
  }
}

const newestFirst = (a: SafetyCopyRecord, b: SafetyCopyRecord): number =>
  b.seq - a.seq || (a.at < b.at ? 1 : -1);

/** Every verified copy that is still there in its full size, newest books first. */
export function listCopies(folder: WorkshopFolder): readonly SafetyCopyRecord[] {
  if (!fs.existsSync(folder.backups)) return [];
  return fs
    .readdirSync(folder.backups)
    .filter((name) => name.endsWith(SIDE_END))
    .flatMap((name) => readSideFile(path.join(folder.backups, name)) ?? [])
    .filter(
      (copy) =>
        fs.statSync(path.join(folder.backups, copy.name), { throwIfNoEntry: false })?.size === copy.bytes,
    )
    .sort(newestFirst);
}

/** Lets go of copies that have grown too dense; a deletion that fails is left for next time. @returns names dropped */
export function thinCopies(folder: WorkshopFolder): readonly string[] {
  const copies = listCopies(folder);
  // What was true before something changed by itself must be there to go back to.
  const wanted = new Set(copies.filter((copy) => !isTrue(copy)).map((copy) => copy.heldAgainst?.name));
  const aged = copies.map((copy) => ({ ...copy, pinned: isPinned(copy.reason) || wanted.has(copy.name) }));
  const drop = copiesToDrop(aged);
  for (const name of drop) {
    const file = path.join(folder.backups, name);
    fs.rmSync(file.slice(0, -END.length) + SIDE_END, { force: true });
    fs.rmSync(file, { force: true });
  }
  return drop;
}

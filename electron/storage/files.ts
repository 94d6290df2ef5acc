/**
 * Pictures, scans and issued papers: written once, never overwritten, checked when read.
 * A picture is flushed before the books speak of it. A paper lies in the books until its file is: see `kept-papers.ts`.
 */
import fs from 'node:fs';
import path from 'node:path';
import { holds, makePrivateFolder, sha256, writeDurably } from './durable.ts';
import type { WriteDb } from './db.ts';
import type { WorkshopFolder } from './folder.ts';
import type { KeptPapers } from './kept-papers.ts';
import { guarded, StorageTrouble } from './trouble.ts';

/** A file as the books remember it. */
export interface StoredFile {
  readonly sha256: string;
  /** Relative to the workshop folder, with forward slashes. */
  readonly path: string;
}

/** Names Windows keeps for devices, whatever ending follows. */
const DEVICE_NAME = /^(con|prn|aux|nul|com\d|lpt\d)(\.|$)/i;
// eslint-disable-next-line no-control-regex -- control characters are exactly what must not get into a file name
const BAD_CHARACTERS = /[\u0000-\u001f<>:"/\\|?*]/;
const LONGEST_NAME_BYTES = 200;

/** True for a plain file name that every system can hold. */
function isPlainName(name: string): boolean {
  if (name === '' || name.startsWith('.') || /[. ]$/.test(name)) return false;
  if (BAD_CHARACTERS.test(name) || DEVICE_NAME.test(name)) return false;
  return Buffer.byteLength(name) <= LONGEST_NAME_BYTES;
}

/** Ending of a picture's own name, if it is a harmless one. */
const endingOf = (name: string): string => /\.[a-z0-9]{1,8}$/.exec(name.toLowerCase())?.[0] ?? '';

/** True when another paper has this place: in the folder, or in the books on its way there. */
function isTaken(folder: WorkshopFolder, kept: KeptPapers, relative: string, hash: string): boolean {
  const waiting = kept.hashOf(relative);
  if (waiting !== undefined) return waiting !== hash;
  const file = path.join(folder.root, ...relative.split('/'));
  return fs.existsSync(file) && !holds(file, hash);
}

/** `paper.pdf`, `paper (2).pdf`, …: the first that is free or already holds these very bytes. */
function freePlace(folder: WorkshopFolder, kept: KeptPapers, name: string, hash: string): string {
  const { name: stem, ext } = path.parse(name);
  let candidate = `documents/${name}`;
  for (let n = 2; isTaken(folder, kept, candidate, hash); n += 1)
    candidate = `documents/${stem} (${n})${ext}`;
  return candidate;
}

function demandPlainName(name: string): void {
  if (isPlainName(name)) return;
  throw new StorageTrouble(
    'foreign',
    `“${name}” cannot be a file name. Use letters, digits, spaces and hyphens.`,
  );
}

/** Resolves a path out of the books, refusing anything outside the two folders. */
function inside(folder: WorkshopFolder, relative: string): string {
  const parts = relative.split('/');
  const fits =
    (parts[0] === 'attachments' || parts[0] === 'documents') && parts.length > 1 && parts.every(isPlainName);
  if (!fits)
    throw new StorageTrouble(
      'foreign',
      `The books name a file outside the workshop folder (${relative}). It was not opened.`,
    );
  return path.join(folder.root, ...parts);
}

/** The file store of one workshop folder. */
export interface Files {
  /** Writes a picture or a scan, flushed with its folder. */
  put(name: string, bytes: Uint8Array): StoredFile;
  /** Keeps a paper in the books, in the transaction at hand; its file follows once that stands. */
  keep(db: WriteDb, name: string, bytes: Uint8Array): StoredFile;
  /** Reads bytes back, checked against their hash; a paper whose file is missing or broken out of the books. */
  get(relative: string, hash: string): Uint8Array;
}

function read(folder: WorkshopFolder, kept: KeptPapers, relative: string, hash: string): Uint8Array {
  const file = inside(folder, relative);
  const there = fs.existsSync(file);
  const bytes = there ? guarded(() => fs.readFileSync(file)) : undefined;
  if (bytes !== undefined && sha256(bytes) === hash) return bytes;
  const waiting = kept.find(relative, hash);
  if (waiting !== undefined) return waiting;
  if (there)
    throw new StorageTrouble(
      'damaged',
      `The file ${relative} has changed since it was stored. Put it back from a safety copy of the folder.`,
    );
  throw new StorageTrouble(
    'missing',
    `The file ${relative} is no longer in the workshop folder. Put it back from a safety copy of the folder.`,
  );
}

/**
 * Opens the file store.
 * Attachments are named by their content; documents keep their given name. When another paper of that name is
 * already there, the new one gets a number: nothing is overwritten.
 */
export function openFiles(folder: WorkshopFolder, kept: KeptPapers): Files {
  return {
    put(name, bytes) {
      demandPlainName(name);
      return guarded(() => {
        const hash = sha256(bytes);
        const relative = `attachments/${hash.slice(0, 2)}/${hash}${endingOf(name)}`;
        const file = path.join(folder.root, ...relative.split('/'));
        makePrivateFolder(path.dirname(file));
        if (!holds(file, hash)) writeDurably(file, bytes);
        return { sha256: hash, path: relative };
      });
    },
    keep(db, name, bytes) {
      demandPlainName(name);
      return guarded(() => {
        const hash = sha256(bytes);
        const relative = freePlace(folder, kept, name, hash);
        kept.add(db, { path: relative, sha256: hash, bytes });
        return { sha256: hash, path: relative };
      });
    },
    get: (relative, hash) => read(folder, kept, relative, hash),
  };
}

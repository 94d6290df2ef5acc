/** Pictures, scans and issued papers: written once, never overwritten, checked when read. */
import fs from 'node:fs';
import path from 'node:path';
import { makePrivateFolder, sha256, writeDurably } from './durable.ts';
import type { WorkshopFolder } from './folder.ts';
import { guarded, StorageTrouble } from './trouble.ts';

/** Which part of the workshop folder a file goes to. */
export type FilePlace = 'attachments' | 'documents';

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

const holds = (file: string, hash: string): boolean =>
  fs.existsSync(file) && sha256(fs.readFileSync(file)) === hash;

/** `paper.pdf`, `paper (2).pdf`, …: the first that is free or already holds these very bytes. */
function freeName(folder: string, name: string, hash: string): string {
  const { name: stem, ext } = path.parse(name);
  let candidate = name;
  for (
    let n = 2;
    fs.existsSync(path.join(folder, candidate)) && !holds(path.join(folder, candidate), hash);
    n += 1
  ) {
    candidate = `${stem} (${n})${ext}`;
  }
  return candidate;
}

function placeFor(folder: WorkshopFolder, place: FilePlace, name: string, hash: string): string {
  if (place === 'attachments') return `attachments/${hash.slice(0, 2)}/${hash}${endingOf(name)}`;
  return `documents/${freeName(folder.documents, name, hash)}`;
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
  put(place: FilePlace, name: string, bytes: Uint8Array): StoredFile;
  get(relative: string, hash: string): Uint8Array;
}

/**
 * Opens the file store.
 * Attachments are named by their content; documents keep their given name. When a paper of that name is
 * already there with other content (left by a crash, say), the new one gets a number: nothing is overwritten.
 */
export function openFiles(folder: WorkshopFolder): Files {
  return {
    put(place, name, bytes) {
      if (!isPlainName(name))
        throw new StorageTrouble(
          'foreign',
          `“${name}” cannot be a file name. Use letters, digits, spaces and hyphens.`,
        );
      return guarded(() => {
        const hash = sha256(bytes);
        const relative = placeFor(folder, place, name, hash);
        const file = path.join(folder.root, ...relative.split('/'));
        makePrivateFolder(path.dirname(file));
        if (!holds(file, hash)) writeDurably(file, bytes);
        return { sha256: hash, path: relative };
      });
    },
    get(relative, hash) {
      const file = inside(folder, relative);
      if (!fs.existsSync(file)) {
        throw new StorageTrouble(
          'missing',
          `The file ${relative} is no longer in the workshop folder. Put it back from a safety copy of the folder.`,
        );
      }
      const bytes = guarded(() => fs.readFileSync(file));
      if (sha256(bytes) !== hash) {
        throw new StorageTrouble(
          'damaged',
          `The file ${relative} has changed since it was stored. Put it back from a safety copy of the folder.`,
        );
      }
      return bytes;
    },
  };
}

/** Writing files so that they are there, whole, after a power cut. Never used on the live books. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';

/** Flushes one finished file to the disk. The file must not be open as a database in this process. */
export function syncFile(file: string): void {
  const handle = fs.openSync(file, 'r+');
  try {
    fs.fsyncSync(handle);
  } finally {
    fs.closeSync(handle);
  }
}

/** Flushes a folder, so that names made or moved in it last. */
export function syncFolder(folder: string): void {
  // Windows can neither open nor flush a folder; its rename is already journalled by the file system.
  if (process.platform === 'win32') return;
  const handle = fs.openSync(folder, 'r');
  try {
    fs.fsyncSync(handle);
  } finally {
    fs.closeSync(handle);
  }
}

/** Makes a folder (and those above it) that only this person may enter. */
export function makePrivateFolder(folder: string): void {
  fs.mkdirSync(folder, { recursive: true, mode: 0o700 });
}

/** Writes a file under a temporary name and renames it into place, flushed before that only where asked. */
function writeWhole(file: string, bytes: Uint8Array | string, flush: boolean): void {
  const part = `${file}.part`;
  fs.rmSync(part, { force: true });
  const handle = fs.openSync(part, 'wx', 0o600);
  try {
    fs.writeFileSync(handle, bytes);
    if (flush) fs.fsyncSync(handle);
  } catch (error) {
    fs.closeSync(handle);
    fs.rmSync(part, { force: true });
    throw error;
  }
  fs.closeSync(handle);
  fs.renameSync(part, file);
}

/** Writes a file under a temporary name, flushes it, renames it into place and flushes the folder. */
export function writeDurably(file: string, bytes: Uint8Array | string): void {
  writeWhole(file, bytes, true);
  syncFolder(path.dirname(file));
}

/** Writes a file in one step for whoever looks, but not flushed: after a power cut it may be missing or broken. */
export const writeUnflushed = (file: string, bytes: Uint8Array | string): void => {
  writeWhole(file, bytes, false);
};

/** SHA-256 of bytes, in lower-case hex (FIPS 180-4). */
export const sha256 = (bytes: Uint8Array | string): string =>
  createHash('sha256').update(bytes).digest('hex');

/** True when a file is there and its bytes have this hash. */
export const holds = (file: string, hash: string): boolean =>
  fs.existsSync(file) && sha256(fs.readFileSync(file)) === hash;

/** SHA-256 of a finished file, read in pieces. Never for the live books: closing the handle drops their lock. */
export function sha256OfFile(file: string): string {
  const hash = createHash('sha256');
  const piece = new Uint8Array(1 << 20);
  const handle = fs.openSync(file, 'r');
  try {
    for (;;) {
      const read = fs.readSync(handle, piece);
      if (read === 0) return hash.digest('hex');
      hash.update(piece.subarray(0, read));
    }
  } finally {
    fs.closeSync(handle);
  }
}

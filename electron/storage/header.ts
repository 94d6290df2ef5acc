/** A first look at a file by its first hundred bytes, before anything opens it (sqlite.org/fileformat2, section 1.3). */
import fs from 'node:fs';

/** Marks the books as ours in the file header: the letters KNWR. */
export const APPLICATION_ID = 0x4b4e5752;

const MAGIC = 'SQLite format 3\0';
const HEADER_BYTES = 100;
const USER_VERSION_AT = 60;
const APPLICATION_ID_AT = 68;

/** What the header says. */
export type HeaderLook =
  { readonly kind: 'books'; readonly shape: number } | { readonly kind: 'empty' | 'foreign' };

/**
 * Reads the header of a file that this process does NOT have open as a database.
 * (Closing the handle would silently drop SQLite's locks on it.)
 */
export function lookAtHeader(file: string): HeaderLook {
  const bytes = Buffer.alloc(HEADER_BYTES);
  const handle = fs.openSync(file, 'r');
  let read: number;
  try {
    read = fs.readSync(handle, bytes, 0, HEADER_BYTES, 0);
  } finally {
    fs.closeSync(handle);
  }
  if (read === 0) return { kind: 'empty' };
  if (read < HEADER_BYTES || bytes.toString('latin1', 0, MAGIC.length) !== MAGIC) return { kind: 'foreign' };
  if (bytes.readUInt32BE(APPLICATION_ID_AT) !== APPLICATION_ID) return { kind: 'foreign' };
  return { kind: 'books', shape: bytes.readUInt32BE(USER_VERSION_AT) };
}

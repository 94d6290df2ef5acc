/** What can go wrong between the books and the disk, each as one sentence that says what to do. */

/** Why the storage layer refused; for tests and for hosts that react to one reason in particular. */
export type TroubleKind =
  | 'missing'
  | 'exists'
  | 'empty'
  | 'foreign'
  | 'newer'
  | 'damaged'
  | 'held'
  | 'full'
  | 'unwritable'
  | 'busy'
  | 'disk';

/** Raised by the storage layer; the core turns it into a `storage` fault with the same sentence. */
export class StorageTrouble extends Error {
  readonly why: TroubleKind;
  constructor(why: TroubleKind, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.name = 'StorageTrouble';
    this.why = why;
  }
}

const FULL =
  'The disk is full. Make room and try again; nothing was changed and what you typed is still here.';
const UNWRITABLE =
  'The workshop folder cannot be written to. Check its permissions, or that the disk is not write-protected, and try again; nothing was changed.';
const BUSY =
  'Another program is using the books (a viewer or a copying tool, perhaps). Close it and try again; nothing was changed.';
const DAMAGED =
  'The books on the disk are damaged. Close Knifewright, keep the folder as it is, and go back to the newest safety copy.';
const DISK =
  'The disk did not take or give the data. Check the disk and its cable or connection and try again; nothing was changed.';

/** SQLite result codes by prefix (longest first), then the operating system's own codes. */
const table: readonly (readonly [code: string, why: TroubleKind, sentence: string])[] = [
  ['SQLITE_FULL', 'full', FULL],
  ['SQLITE_IOERR_WRITE', 'full', FULL],
  ['SQLITE_IOERR_CORRUPTFS', 'damaged', DAMAGED],
  ['SQLITE_IOERR_DATA', 'damaged', DAMAGED],
  ['SQLITE_IOERR', 'disk', DISK],
  ['SQLITE_BUSY', 'busy', BUSY],
  ['SQLITE_LOCKED', 'busy', BUSY],
  ['SQLITE_PROTOCOL', 'busy', BUSY],
  ['SQLITE_READONLY', 'unwritable', UNWRITABLE],
  ['SQLITE_PERM', 'unwritable', UNWRITABLE],
  ['SQLITE_CANTOPEN', 'unwritable', UNWRITABLE],
  ['SQLITE_CORRUPT', 'damaged', DAMAGED],
  ['SQLITE_NOTADB', 'damaged', DAMAGED],
  ['ENOSPC', 'full', FULL],
  ['EDQUOT', 'full', FULL],
  ['EFBIG', 'full', FULL],
  ['EROFS', 'unwritable', UNWRITABLE],
  ['EACCES', 'unwritable', UNWRITABLE],
  ['EPERM', 'unwritable', UNWRITABLE],
  ['EIO', 'disk', DISK],
  ['EMFILE', 'busy', BUSY],
];

const codeOf = (error: unknown): string | undefined =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : undefined;

/**
 * Turns an error of the driver or the operating system into storage trouble with a plain sentence.
 * @returns undefined when the error is not about the disk (a broken constraint, a mistake of ours)
 */
export function asTrouble(error: unknown): StorageTrouble | undefined {
  if (error instanceof StorageTrouble) return error;
  const code = codeOf(error);
  const row = code === undefined ? undefined : table.find(([prefix]) => code.startsWith(prefix));
  return row && new StorageTrouble(row[1], row[2], error);
}

/** Runs work and lets disk errors out only as storage trouble. Other errors pass unchanged. */
export function guarded<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw asTrouble(error) ?? error;
  }
}

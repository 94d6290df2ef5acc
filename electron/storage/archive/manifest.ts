/** What an archive says of itself: what it holds, from which books, and the hash of every file in it. */
import { StorageTrouble } from '../trouble.ts';

export const ARCHIVE_FORMAT = 'knifewright-archive';
/** Rises when an older Knifewright could not read it any more. */
export const ARCHIVE_VERSION = 1;

/** One file of the archive. */
export interface ArchiveFile {
  /** Inside the archive, with forward slashes. */
  readonly path: string;
  readonly bytes: number;
  /** SHA-256 in hex. */
  readonly sha256: string;
}

/** One table of the archive. */
export interface ManifestTable {
  readonly name: string;
  readonly columns: readonly string[];
  readonly rows: number;
}

export interface Manifest {
  readonly format: typeof ARCHIVE_FORMAT;
  readonly version: number;
  /** UTC ISO instant. */
  readonly madeAt: string;
  readonly workshop: string;
  readonly currency: string;
  /** Shape of the books (`user_version`). */
  readonly shape: number;
  /** Last entry of the journal. */
  readonly journal: { readonly seq: number; readonly hash: string };
  /** Control totals: whole numbers, by name. */
  readonly totals: Readonly<Record<string, number>>;
  readonly tables: readonly ManifestTable[];
  /** Every file but this one. */
  readonly files: readonly ArchiveFile[];
  /** Files the books speak of that were not in the workshop folder, or not as they were stored. */
  readonly missing: readonly string[];
}

/** The archive cannot be used; `why` completes the sentence. */
export const unusable = (why: string): StorageTrouble =>
  new StorageTrouble('damaged', `${why} Nothing was taken from this archive.`);

type Plain = Readonly<Record<string, unknown>>;

const isPlain = (value: unknown): value is Plain =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const isText = (value: unknown): value is string => typeof value === 'string';
const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && Number(value) >= 0;
const isHash = (value: unknown): value is string => isText(value) && /^[0-9a-f]{64}$/.test(value);
const listOf = <T>(value: unknown, fits: (each: unknown) => each is T): value is readonly T[] =>
  Array.isArray(value) && value.every(fits);

const isFile = (value: unknown): value is ArchiveFile =>
  isPlain(value) && isText(value['path']) && isCount(value['bytes']) && isHash(value['sha256']);
const isTable = (value: unknown): value is ManifestTable =>
  isPlain(value) && isText(value['name']) && isCount(value['rows']) && listOf(value['columns'], isText);
const isJournal = (value: unknown): value is Manifest['journal'] =>
  isPlain(value) && isCount(value['seq']) && isHash(value['hash']);
const isTotals = (value: unknown): value is Manifest['totals'] =>
  isPlain(value) && Object.values(value).every((each) => Number.isSafeInteger(each));

const isManifest = (value: Plain): boolean =>
  isText(value['madeAt']) &&
  isText(value['workshop']) &&
  isText(value['currency']) &&
  isCount(value['shape']) &&
  isJournal(value['journal']) &&
  isTotals(value['totals']) &&
  listOf(value['tables'], isTable) &&
  listOf(value['files'], isFile) &&
  listOf(value['missing'], isText);

function parsed(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    throw unusable('Its list of contents (manifest.json) cannot be read.');
  }
}

/**
 * Reads the list of contents.
 * @throws StorageTrouble for another kind of file, a newer format, or a list that is not whole
 */
export function readManifest(text: string): Manifest {
  const value = parsed(text);
  if (!isPlain(value) || value['format'] !== ARCHIVE_FORMAT || !isCount(value['version'])) {
    throw new StorageTrouble('foreign', 'This is not an archive of a workshop. Choose another file.');
  }
  if (value['version'] > ARCHIVE_VERSION) {
    throw new StorageTrouble(
      'newer',
      'This archive was made with a newer Knifewright. Install the newer Knifewright to use it.',
    );
  }
  if (!isManifest(value)) throw unusable('Its list of contents (manifest.json) is not whole.');
  return value as unknown as Manifest;
}

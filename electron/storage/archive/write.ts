/** Writes everything of a workshop into one archive, piece by piece, so that large pictures cost no memory. */
import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import { Readable, Transform } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import type Database from 'better-sqlite3';
import { ZipFile } from 'yazl';
import { sha256, syncFile, syncFolder } from '../durable.ts';
import { failpoint } from '../failpoint.ts';
import { journalHead } from '../journal.ts';
import { shapeOf } from '../migrate.ts';
import { ARCHIVE_FORMAT, ARCHIVE_VERSION, type ArchiveFile, type Manifest } from './manifest.ts';
import { filesSpokenOf, type SpokenOf } from './stored-files.ts';
import { type ArchiveTable, csvText, inPieces, jsonText, rowCount, rowsOf, tablesOf } from './tables.ts';
import { controlTotals } from './totals.ts';

/** Told how far the work has come. */
export type OnBytes = (bytes: number) => void;

/** What an archive is made from. */
export interface WriteOrder {
  /** A finished copy of the books, opened for reading only. */
  readonly db: Database.Database;
  /** The workshop folder, whose pictures and papers go along. */
  readonly root: string;
  /** UTC ISO instant. */
  readonly at: string;
  /** Says in plain words what lies in the archive and what each column means. */
  readonly readme: (manifest: Omit<Manifest, 'files'>, tables: readonly ArchiveTable[]) => string;
  readonly onBytes: OnBytes;
  readonly signal: AbortSignal;
}

/** A file of the archive before its bytes are read. */
interface Source {
  readonly path: string;
  readonly compress: boolean;
  open(): Readable;
}

/** SHA-256 of a file, read in pieces between which others are let in. */
async function hashOf(file: string, signal: AbortSignal): Promise<string> {
  const hash = createHash('sha256');
  for await (const piece of fs.createReadStream(file, { signal })) hash.update(piece as Buffer);
  return hash.digest('hex');
}

/** Where the bytes of a stored file are, or nothing when they are gone or altered. */
async function sourceOf(order: WriteOrder, file: SpokenOf): Promise<Source | undefined> {
  const onDisk = path.join(order.root, ...file.path.split('/'));
  const whole = fs.existsSync(onDisk) && (await hashOf(onDisk, order.signal)) === file.sha256;
  if (whole) return { path: file.path, compress: false, open: () => fs.createReadStream(onDisk) };
  const kept = keptBytes(order.db, file);
  return kept && { path: file.path, compress: false, open: () => Readable.from([kept]) };
}

/** Papers whose file is not safely on the disk yet lie in the books themselves. */
function keptBytes(db: Database.Database, file: SpokenOf): Buffer | undefined {
  const row = db
    .prepare<[string], { readonly bytes: Buffer }>('SELECT bytes FROM kept_bytes WHERE path = ?')
    .get(file.path);
  return row !== undefined && sha256(row.bytes) === file.sha256 ? row.bytes : undefined;
}

async function storedSources(order: WriteOrder, tables: readonly ArchiveTable[]) {
  const stored: Source[] = [];
  const missing: string[] = [];
  for (const file of filesSpokenOf(order.db, tables)) {
    const source = await sourceOf(order, file);
    if (source === undefined) missing.push(file.path);
    else stored.push(source);
  }
  return { stored, missing };
}

const tableSources = (db: Database.Database, table: ArchiveTable): readonly Source[] => [
  {
    path: `tables/${table.name}.json`,
    compress: true,
    open: () => Readable.from(inPieces(jsonText(table, rowsOf(db, table)))),
  },
  {
    path: `tables/${table.name}.csv`,
    compress: true,
    open: () => Readable.from(inPieces(csvText(table, rowsOf(db, table)))),
  },
];

/** Lets bytes through, counting and hashing them. */
function measured(file: string, into: ArchiveFile[], onBytes: OnBytes): Transform {
  const hash = createHash('sha256');
  let bytes = 0;
  return new Transform({
    transform(piece: Buffer, _encoding, done) {
      hash.update(piece);
      bytes += piece.length;
      onBytes(piece.length);
      done(null, piece);
    },
    flush(done) {
      into.push({ path: file, bytes, sha256: hash.digest('hex') });
      done();
    },
  });
}

/** What the list of contents says before a single file is read. */
function headOf(order: WriteOrder, tables: readonly ArchiveTable[], missing: readonly string[]) {
  const { db } = order;
  const shop = db.prepare('SELECT name, currency FROM workshop').get() as
    { readonly name: string; readonly currency: string } | undefined;
  return {
    format: ARCHIVE_FORMAT,
    version: ARCHIVE_VERSION,
    madeAt: order.at,
    workshop: shop?.name ?? '',
    currency: shop?.currency ?? '',
    shape: shapeOf(db),
    journal: journalHead(db),
    totals: controlTotals(db, tables),
    tables: tables.map((table) => ({
      name: table.name,
      columns: table.columns.map(({ name }) => name),
      rows: rowCount(db, table),
    })),
    missing,
  } satisfies Omit<Manifest, 'files'>;
}

/** Puts the sources into the zip, one after another; the list of contents comes last, when all hashes are known. */
function fill(
  zip: ZipFile,
  order: WriteOrder,
  sources: readonly Source[],
  last: (files: ArchiveFile[]) => string,
) {
  const files: ArchiveFile[] = [];
  const mtime = new Date(order.at);
  for (const source of sources) {
    zip.addReadStreamLazy(source.path, { mtime, mode: 0o100_600, compress: source.compress }, (give) => {
      const through = measured(source.path, files, order.onBytes);
      pipeline(source.open(), through).catch((error: unknown) => zip.emit('error', error));
      give(null, through);
    });
  }
  zip.addReadStreamLazy('manifest.json', { mtime, mode: 0o100_600 }, (give) => {
    give(null, Readable.from([Buffer.from(last(files))]));
  });
  zip.end();
}

/**
 * Writes the archive under a temporary name and gives it its own only when it is whole and on the disk.
 * Cancelled or failed, it leaves nothing behind.
 * @param file where it is to stand; must not exist
 * @throws StorageTrouble when the disk is full
 */
export async function writeArchive(file: string, order: WriteOrder): Promise<Omit<Manifest, 'files'>> {
  const tables = tablesOf(order.db);
  const { stored, missing } = await storedSources(order, tables);
  const head = headOf(order, tables, missing);
  const readme: Source = {
    path: 'README.txt',
    compress: true,
    open: () => Readable.from([Buffer.from(order.readme(head, tables))]),
  };
  const sources = [readme, ...tables.flatMap((table) => tableSources(order.db, table)), ...stored];
  const part = `${file}.part`;
  const zip = new ZipFile();
  const failed = new Promise<never>((_resolve, reject) => {
    zip.on('error', reject);
  });
  try {
    const out = fs.createWriteStream(part, { flags: 'wx', mode: 0o600 });
    fill(zip, order, sources, (files) => `${JSON.stringify({ ...head, files }, null, 1)}\n`);
    await Promise.race([pipeline(zip.outputStream, out, { signal: order.signal }), failed]);
    syncFile(part);
    failpoint('archive.flushed');
    fs.renameSync(part, file);
    syncFolder(path.dirname(file));
    return head;
  } catch (error) {
    fs.rmSync(part, { force: true });
    throw error;
  }
}

/** Reads an archive with distrust: no name outside it, no file longer than it says, every hash as its list of contents has it. */
import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { Transform, type Writable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { type Entry, openPromise, type ZipFile } from 'yauzl';
import { StorageTrouble } from '../trouble.ts';
import { type ArchiveFile, type Manifest, readManifest, unusable } from './manifest.ts';
import type { OnBytes } from './write.ts';

const MANIFEST = 'manifest.json';
const LONGEST_MANIFEST = 256 << 20;
const MOST_FILES = 1_000_000;

/** The names an archive may hold. Papers have names of the maker's own; the rest is named by the program. */
const known = [
  /^README\.txt$/,
  /^tables\/[a-z][a-z0-9_]*\.(?:json|csv)$/,
  /^attachments\/[0-9a-f]{2}\/[0-9a-f]{64}(?:\.[a-z0-9]{1,8})?$/,
  // eslint-disable-next-line no-control-regex -- control characters are exactly what must not get into a file name
  /^documents\/(?!\.)[^\u0000-\u001f<>:"/\\|?*]{1,200}$/,
];

const isKnown = (name: string): boolean => known.some((pattern) => pattern.test(name));

/** An archive whose list of contents was read and fits what lies in it. */
export interface OpenArchive {
  readonly manifest: Manifest;
  /** Sends a file through, checking size and hash. @throws StorageTrouble that names the file */
  send(file: ArchiveFile, to: Writable, signal: AbortSignal, onBytes: OnBytes): Promise<void>;
  /** Looks a file of the archive up. @throws StorageTrouble when it is not there */
  file(path: string): ArchiveFile;
  close(): void;
}

const notWhole = unusable('This file is not a whole archive; its end may be missing. Fetch it again.');

/** The reader's own words for a bad name and the like, as one sentence. */
function inPlainWords(error: unknown): unknown {
  if (error instanceof StorageTrouble) return error;
  if (!(error instanceof Error)) return error;
  if ('code' in error && typeof error.code === 'string' && /^E[A-Z]+$/.test(error.code)) return error;
  const bad = /^(?:invalid relative path|absolute path|invalid characters in fileName): (.*)$/.exec(
    error.message,
  );
  if (bad) return unusable(`The archive names a file outside itself (${bad[1] ?? ''}).`);
  return notWhole;
}

async function entriesOf(zip: ZipFile): Promise<ReadonlyMap<string, Entry>> {
  const entries = new Map<string, Entry>();
  for await (const entry of zip.eachEntry()) {
    const name = entry.fileName;
    if (name !== MANIFEST && !isKnown(name))
      throw unusable(
        `This is no archive of Knifewright, or somebody put a file into it: ${name} does not belong there.`,
      );
    if (entries.has(name)) throw unusable(`The archive holds ${name} twice.`);
    if (entries.size >= MOST_FILES) throw unusable('The archive holds more files than can be.');
    entries.set(name, entry);
  }
  return entries;
}

async function textOf(zip: ZipFile, entry: Entry): Promise<string> {
  if (entry.uncompressedSize > LONGEST_MANIFEST)
    throw unusable('Its list of contents is too long to be true.');
  const pieces: Buffer[] = [];
  for await (const piece of await zip.openReadStreamPromise(entry)) pieces.push(piece as Buffer);
  return Buffer.concat(pieces).toString('utf8');
}

/** Every file listed is there in the size that is said, and nothing else is. */
function demandFit(entries: ReadonlyMap<string, Entry>, manifest: Manifest): void {
  const listed = new Set<string>();
  for (const { path, bytes } of manifest.files) {
    const entry = entries.get(path);
    if (entry === undefined || listed.has(path)) throw unusable(`${path} is missing from the archive.`);
    if (entry.uncompressedSize !== bytes)
      throw unusable(`${path} has another size than the list of contents says.`);
    listed.add(path);
  }
  for (const name of entries.keys())
    if (name !== MANIFEST && !listed.has(name)) throw unusable(`${name} is not in the list of contents.`);
}

/** Counts and hashes what goes through; ends badly as soon as it is more, or other, than was said. */
function checked(file: ArchiveFile, onBytes: OnBytes): Transform {
  const hash = createHash('sha256');
  const wrong = unusable(`${file.path} has changed since the archive was made.`);
  let bytes = 0;
  return new Transform({
    transform(piece: Buffer, _encoding, done) {
      bytes += piece.length;
      if (bytes > file.bytes) {
        done(wrong);
        return;
      }
      hash.update(piece);
      onBytes(piece.length);
      done(null, piece);
    },
    flush(done) {
      done(bytes === file.bytes && hash.digest('hex') === file.sha256 ? null : wrong);
    },
  });
}

const openZip = (path: string): Promise<ZipFile> =>
  openPromise(path, {
    autoClose: false,
    lazyEntries: true,
    strictFileNames: true,
    validateEntrySizes: true,
  });

/**
 * Opens an archive and holds what lies in it against its list of contents. Reads no file but that list.
 * @throws StorageTrouble for another kind of file, a newer format, or one that is not whole
 */
export async function openArchive(path: string): Promise<OpenArchive> {
  let zip: ZipFile | undefined;
  try {
    const opened = await openZip(path);
    zip = opened;
    const entries = await entriesOf(opened);
    const list = entries.get(MANIFEST);
    if (list === undefined)
      throw new StorageTrouble('foreign', 'This is not an archive of a workshop. Choose another file.');
    const manifest = readManifest(await textOf(opened, list));
    demandFit(entries, manifest);
    const byPath = new Map(manifest.files.map((file) => [file.path, file]));
    return {
      manifest,
      file(wanted) {
        const found = byPath.get(wanted);
        if (found === undefined) throw unusable(`${wanted} is missing from the archive.`);
        return found;
      },
      async send(file, to, signal, onBytes) {
        const entry = entries.get(file.path);
        if (entry === undefined) throw unusable(`${file.path} is missing from the archive.`);
        try {
          await pipeline(await opened.openReadStreamPromise(entry), checked(file, onBytes), to, { signal });
        } catch (error) {
          throw brokenIn(file, error);
        }
      },
      close: () => opened.close(),
    };
  } catch (error) {
    zip?.close();
    throw inPlainWords(error);
  }
}

/** What broke while one file was read: the disk's own trouble stays, anything else is the file's. */
function brokenIn(file: ArchiveFile, error: unknown): unknown {
  if (error instanceof StorageTrouble) return error;
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const ours = code.startsWith('SQLITE') || /^E[A-Z]+$/.test(code) || code === 'ABORT_ERR';
  return ours ? error : unusable(`${file.path} is damaged in the archive.`);
}

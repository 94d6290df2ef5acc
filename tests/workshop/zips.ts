/** Takes archives apart and puts them together again, so that a test can spoil one thing in them. */
import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import { openPromise } from 'yauzl';
import { ZipFile } from 'yazl';
import type { Manifest } from '../../electron/storage/archive/manifest.ts';

export type Contents = Map<string, Buffer>;

/** Every file of a zip, by name. */
export async function contentsOf(file: string): Promise<Contents> {
  const zip = await openPromise(file, { lazyEntries: true, autoClose: false });
  const contents: Contents = new Map();
  for await (const entry of zip.eachEntry()) {
    const pieces: Buffer[] = [];
    for await (const piece of await zip.openReadStreamPromise(entry)) pieces.push(piece as Buffer);
    contents.set(entry.fileName, Buffer.concat(pieces));
  }
  zip.close();
  return contents;
}

/** The text of one file. */
export const textIn = (contents: Contents, name: string): string => {
  const bytes = contents.get(name);
  if (bytes === undefined) throw new Error(`${name} is not in the archive`);
  return bytes.toString('utf8');
};

export const manifestIn = (contents: Contents): Manifest =>
  JSON.parse(textIn(contents, 'manifest.json')) as Manifest;

/** Writes the list of contents anew, with sizes and hashes as they are now, and what `change` says. */
export function relist(contents: Contents, change: Partial<Manifest> = {}): void {
  const files = [...contents]
    .filter(([name]) => name !== 'manifest.json')
    .map(([path, bytes]) => ({
      path,
      bytes: bytes.length,
      sha256: createHash('sha256').update(bytes).digest('hex'),
    }));
  const manifest = { ...manifestIn(contents), files, ...change };
  contents.set('manifest.json', Buffer.from(JSON.stringify(manifest)));
}

/** Makes a zip of files; the bytes of the whole thing. */
export async function zipOf(contents: Contents): Promise<Buffer> {
  const zip = new ZipFile();
  for (const [name, bytes] of contents) zip.addBuffer(bytes, name);
  zip.end();
  const pieces: Buffer[] = [];
  for await (const piece of zip.outputStream) pieces.push(piece as Buffer);
  return Buffer.concat(pieces);
}

const CENTRAL = 0x02014b50;
const SIZE_AT = 24;
const NAME_AT = 46;

/** Lets the directory of a zip say another unpacked size of one file (APPNOTE.TXT 4.3.12). */
export function sayOtherSize(zip: Buffer, name: string, size: number): Buffer {
  for (let at = zip.indexOf(name); at >= 0; at = zip.indexOf(name, at + 1)) {
    const head = at - NAME_AT;
    if (head >= 0 && zip.readUInt32LE(head) === CENTRAL) zip.writeUInt32LE(size, head + SIZE_AT);
  }
  return zip;
}

/** Gives a file of a zip another name of the same length, wherever it stands. */
export function renamed(zip: Buffer, name: string, other: string): Buffer {
  if (name.length !== other.length) throw new Error('the names must have one length');
  for (let at = zip.indexOf(name); at >= 0; at = zip.indexOf(name, at + 1)) zip.write(other, at, 'latin1');
  return zip;
}

/** Writes a file into the folder of archives of a workshop. */
export function putArchive(folder: string, name: string, bytes: Uint8Array): void {
  fs.mkdirSync(`${folder}/archives`, { recursive: true });
  fs.writeFileSync(`${folder}/archives/${name}`, bytes);
}

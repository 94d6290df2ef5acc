/** Archives on their way into and out of the workshop folder, piece by piece: they may be larger than memory. */
import {
  createReadStream,
  createWriteStream,
  existsSync,
  mkdirSync,
  renameSync,
  rmSync,
  statfsSync,
} from 'node:fs';
import { open } from 'node:fs/promises';
import { join } from 'node:path';
import type { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { FaultError } from '../api/errors.ts';

const plainName = /^(?!\.)[\p{L}\p{N} ._()-]{1,120}\.zip$/u;
const spareBytes = 32 * 1024 * 1024;

const fault = (kind: 'invalid' | 'missing' | 'storage', message: string): FaultError =>
  new FaultError({ kind, message });

const placeOf = (folder: string): string => join(folder, 'archives');

/**
 * Where an archive of a workshop folder lies.
 * @throws FaultError for a name that is none, or a file that is not there
 */
export const archiveFile = (folder: string, name: string): string => {
  const file = join(placeOf(folder), name);
  if (!plainName.test(name) || !existsSync(file))
    throw fault('missing', 'This archive is no longer there. Reload the page.');
  return file;
};

/** A name that every system can hold and no archive has yet. */
const freeName = (place: string, proposed: string): string => {
  const last = proposed.split(/[\\/]/).at(-1) ?? '';
  const stem = last
    .replace(/\.zip$/i, '')
    .replaceAll(/[^\p{L}\p{N} ._()-]+/gu, ' ')
    .replace(/^[. ]+|[. ]+$/g, '')
    .slice(0, 80);
  const base = stem === '' ? 'Archive' : stem;
  let name = `${base}.zip`;
  for (let n = 2; existsSync(join(place, name)); n += 1) name = `${base} (${n}).zip`;
  return name;
};

const demandRoom = (folder: string, bytes: number): void => {
  const { bavail, bsize } = statfsSync(folder);
  if (bavail * bsize >= bytes + spareBytes) return;
  throw fault(
    'storage',
    'The disk of the workshop folder has no room for this file. Make room and try again.',
  );
};

const flushed = async (file: string): Promise<void> => {
  const handle = await open(file, 'r+');
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
};

/**
 * Takes a file in among the archives of a workshop folder. Cut off, it leaves nothing behind.
 * @param bytes how long it says it is
 * @returns the name it got
 */
export const receiveArchive = async (
  folder: string,
  proposed: string,
  from: Readable,
  bytes: number,
): Promise<string> => {
  demandRoom(folder, bytes);
  const place = placeOf(folder);
  mkdirSync(place, { recursive: true, mode: 0o700 });
  const name = freeName(place, proposed);
  const part = join(place, `${name}.part`);
  try {
    let size = 0;
    const counted = async function* (pieces: AsyncIterable<Uint8Array>) {
      for await (const piece of pieces) {
        size += piece.byteLength;
        if (size > bytes) throw fault('invalid', 'The file is longer than was said. Choose it again.');
        yield piece;
      }
    };
    await pipeline(from, counted, createWriteStream(part, { flags: 'w', mode: 0o600 }));
    if (size !== bytes) throw fault('invalid', 'The file did not arrive whole. Choose it again.');
    await flushed(part);
    renameSync(part, join(place, name));
    return name;
  } catch (error) {
    rmSync(part, { force: true });
    if (error instanceof FaultError) throw error;
    throw fault('storage', 'The file could not be taken in. Make room on the disk and choose it again.');
  }
};

/** Writes a copy of a file under a temporary name beside its target and gives it its name when it is whole. */
export const copyWhole = async (from: string, to: string): Promise<void> => {
  const part = `${to}.part`;
  try {
    await pipeline(createReadStream(from), createWriteStream(part, { flags: 'w', mode: 0o600 }));
    await flushed(part);
    renameSync(part, to);
  } catch {
    rmSync(part, { force: true });
    throw fault(
      'storage',
      'The file could not be written there. Choose another folder or make room on the disk.',
    );
  }
};

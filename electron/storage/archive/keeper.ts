/** The archives of one workshop folder: those that lie there, and the one piece of work on them at a time. */
import fs from 'node:fs';
import path from 'node:path';
import { makePrivateFolder } from '../durable.ts';
import type { WorkshopFolder } from '../folder.ts';
import { StorageTrouble } from '../trouble.ts';
import { type ArchiveWork, oneAtATime } from './slot.ts';
import { bringAll, demandRoom, lookInto, takeOut, type TaskOptions } from './tasks.ts';

/** An archive that lies in the workshop folder. */
export interface ArchiveFound {
  readonly name: string;
  readonly bytes: number;
  /** UTC ISO instant of its last change. */
  readonly at: string;
}

export interface ArchiveKeeper {
  /** Newest first. */
  list(): readonly ArchiveFound[];
  work(): ArchiveWork | null;
  /** Begins a piece of work; its outcome shows in `work`. @throws StorageTrouble when it cannot begin */
  take(name: string): ArchiveWork;
  check(name: string): ArchiveWork;
  bring(name: string): ArchiveWork;
  /** Ends what runs; answers when nothing of it is left. */
  cancel(): Promise<void>;
  drop(name: string): void;
}

const END = '.zip';
const PLAIN_NAME = /^(?!\.)[\p{L}\p{N} ._()-]{1,120}\.zip$/u;

/** Bytes of all files below a folder. */
const sizeUnder = (folder: string): number =>
  (fs.existsSync(folder) ? fs.readdirSync(folder, { withFileTypes: true, recursive: true }) : [])
    .filter((each) => each.isFile())
    .reduce((sum, each) => sum + fs.statSync(path.join(each.parentPath, each.name)).size, 0);

/** About how much goes through when everything is taken out: the books once as a copy and once as text. */
const sizeOfAll = (folder: WorkshopFolder): number =>
  2 * fs.statSync(folder.books).size + sizeUnder(folder.attachments) + sizeUnder(folder.documents);

const found = (place: string, name: string): ArchiveFound => {
  const { size, mtime } = fs.statSync(path.join(place, name));
  return { name, bytes: size, at: mtime.toISOString() };
};

/** Answers for the archives of one open workshop. */
export function keepArchives(options: TaskOptions): ArchiveKeeper {
  const { folder } = options;
  const place = folder.archives;
  const slot = oneAtATime();

  const fileOf = (name: string): string => {
    if (!PLAIN_NAME.test(name))
      throw new StorageTrouble(
        'foreign',
        `“${name}” is no name of an archive. Use letters, digits and hyphens, and .zip at the end.`,
      );
    return path.join(place, name);
  };
  const existing = (name: string): string => {
    const file = fileOf(name);
    if (!fs.existsSync(file))
      throw new StorageTrouble(
        'missing',
        `${name} is no longer among the archives. Put it there again, or choose another one.`,
      );
    return file;
  };
  /** Its books are written three times while it is read: as they come, read back, and as a copy. */
  const sizeOfOne = (name: string): number => 3 * fs.statSync(existing(name)).size;

  return {
    list: () =>
      (fs.existsSync(place) ? fs.readdirSync(place) : [])
        .filter((name) => PLAIN_NAME.test(name))
        .map((name) => found(place, name))
        .sort((a, b) => (a.at < b.at ? 1 : -1)),
    work: () => slot.work(),
    take(wanted) {
      const stem = wanted.slice(0, -END.length);
      let name = wanted;
      for (let n = 2; fs.existsSync(fileOf(name)); n += 1) name = `${stem} (${n})${END}`;
      const totalBytes = sizeOfAll(folder);
      demandRoom(folder, totalBytes);
      makePrivateFolder(place);
      return slot.begin({ what: 'take', name, totalBytes }, takeOut(options, fileOf(name)));
    },
    check: (name) =>
      slot.begin({ what: 'check', name, totalBytes: sizeOfOne(name) }, lookInto(options, fileOf(name))),
    bring: (name) =>
      slot.begin({ what: 'bring', name, totalBytes: sizeOfOne(name) }, bringAll(options, fileOf(name))),
    cancel: () => slot.cancel(),
    drop(name) {
      const file = existing(name);
      const work = slot.work();
      if (work?.state === 'running' && work.name === name)
        throw new StorageTrouble('busy', 'This archive is being worked on. Cancel that first.');
      fs.rmSync(file);
    },
  };
}

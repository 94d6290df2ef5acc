/** Brings an archive into a workshop folder: its books as a checked safety copy, its pictures and papers into their places. */
import fs from 'node:fs';
import path from 'node:path';
import { describeCopy, makeSingleFile, type SafetyCopyRecord, writeSideFile } from '../backups.ts';
import { makePrivateFolder, sha256OfFile, syncFile, syncFolder } from '../durable.ts';
import { failpoint } from '../failpoint.ts';
import type { WorkshopFolder } from '../folder.ts';
import type { Migration } from '../migrate.ts';
import { type ArchiveFile, unusable } from './manifest.ts';
import type { OpenArchive } from './read.ts';
import { nowhere } from './nowhere.ts';
import { rebuildBooks, type Watch } from './rebuild.ts';

/** What bringing an archive in needs. */
export interface BringOrder {
  readonly folder: WorkshopFolder;
  readonly migrations: readonly Migration[];
  /** UTC ISO instant. */
  readonly at: string;
  readonly watch: Watch;
}

const isBeside = (file: ArchiveFile): boolean =>
  file.path.startsWith('attachments/') || file.path.startsWith('documents/');

/** Writes one file to its place, unless it lies there already. @returns its path when it was written now */
async function place(
  archive: OpenArchive,
  file: ArchiveFile,
  order: BringOrder,
): Promise<string | undefined> {
  const target = path.join(order.folder.root, ...file.path.split('/'));
  if (fs.existsSync(target)) {
    if (sha256OfFile(target) === file.sha256) return undefined;
    throw unusable(`${file.path} lies in the workshop folder already, with other content.`);
  }
  makePrivateFolder(path.dirname(target));
  const part = `${target}.part`;
  try {
    const out = fs.createWriteStream(part, { flags: 'w', mode: 0o600 });
    await archive.send(file, out, order.watch.signal, order.watch.onBytes);
    syncFile(part);
    fs.renameSync(part, target);
  } catch (error) {
    fs.rmSync(part, { force: true });
    throw error;
  }
  return target;
}

function freshName(folder: WorkshopFolder, at: string, seq: number): string {
  const stem = `books-${at.slice(0, 19).replaceAll(/[-:]/g, '')}-${String(seq).padStart(8, '0')}`;
  let name = `${stem}.db`;
  for (let n = 2; fs.existsSync(path.join(folder.backups, name)); n += 1) name = `${stem}-${n}.db`;
  return name;
}

/** Puts the finished books among the safety copies, read back in full like any other. */
function asCopy(file: string, archive: OpenArchive, order: BringOrder): SafetyCopyRecord {
  const { folder, at } = order;
  makeSingleFile(file);
  syncFile(file);
  const name = freshName(folder, at, archive.manifest.journal.seq);
  const record = describeCopy(file, name, at, 'brought');
  fs.renameSync(file, path.join(folder.backups, name));
  syncFolder(folder.backups);
  failpoint('archive.copied');
  writeSideFile(folder, record);
  return record;
}

/**
 * Brings everything of an archive in. The books become a safety copy; going back to it puts them in place.
 * Failed or cancelled, every file written meanwhile is taken away again.
 */
export async function bringIn(archive: OpenArchive, order: BringOrder): Promise<SafetyCopyRecord> {
  const { folder, migrations, watch } = order;
  const books = path.join(folder.backups, 'brought.db.part');
  const written: string[] = [];
  fs.rmSync(books, { force: true });
  try {
    await rebuildBooks(archive, books, migrations, watch);
    for (const file of archive.manifest.files.filter(isBeside)) {
      const target = await place(archive, file, order);
      if (target !== undefined) written.push(target);
    }
    for (const each of new Set(written.map((target) => path.dirname(target)))) syncFolder(each);
    // The rest is only there to be read by people; it is held against its hash all the same.
    for (const file of archive.manifest.files.filter(
      (each) => !isBeside(each) && !each.path.endsWith('.json'),
    ))
      await archive.send(file, nowhere(), watch.signal, watch.onBytes);
    return asCopy(books, archive, order);
  } catch (error) {
    for (const target of written) fs.rmSync(target, { force: true });
    fs.rmSync(books, { force: true });
    throw error;
  }
}

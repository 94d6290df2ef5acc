/** Going back to a safety copy. The books replaced are kept; a power cut at any step ends in the old or the new books. */
import fs from 'node:fs';
import path from 'node:path';
import { describeCopy, listCopies, makeSingleFile, writeSideFile } from './backups.ts';
import { sha256OfFile, syncFile, syncFolder, writeDurably } from './durable.ts';
import { companions, examineCopyOf } from './examine.ts';
import { failpoint } from './failpoint.ts';
import { sizeOf, type WorkshopFolder } from './folder.ts';
import { StorageTrouble } from './trouble.ts';

/** What is being done, written down before the first rename so that it can be finished after a crash. */
interface RestoreNote {
  readonly keepAs: string;
  readonly at: string;
}

function readNote(folder: WorkshopFolder): RestoreNote {
  return JSON.parse(fs.readFileSync(folder.restoreNote, 'utf8')) as RestoreNote;
}

/** Moves the present books, with their companions, into `backups/` under the name in the note. */
function setAside(folder: WorkshopFolder, note: RestoreNote): void {
  const kept = path.join(folder.backups, note.keepAs);
  for (const end of companions) {
    if (fs.existsSync(folder.books + end)) {
      if (fs.existsSync(kept + end))
        throw new StorageTrouble(
          'exists',
          `${kept + end} is in the way. Move it elsewhere and open the workshop again.`,
        );
      fs.renameSync(folder.books + end, kept + end);
    }
    failpoint(`restore.aside${end}`);
  }
  syncFolder(folder.backups);
}

/**
 * The replaced books become a safety copy too, when they are sound, so that a restore can be undone.
 * Damaged books are kept as they are, for whoever can read something out of them.
 */
function recordReplaced(folder: WorkshopFolder, note: RestoreNote): void {
  const kept = path.join(folder.backups, note.keepAs);
  if (sizeOf(kept) === undefined || !examineCopyOf(kept).sound) return;
  makeSingleFile(kept);
  syncFile(kept);
  writeSideFile(folder, describeCopy(kept, note.keepAs, note.at, 'replaced'));
}

/**
 * Finishes a restore that was cut short. Call it with the folder held and the books closed.
 * @returns true when there was one
 */
export function finishRestore(folder: WorkshopFolder): boolean {
  if (!fs.existsSync(folder.restoreNote)) {
    fs.rmSync(folder.restoring, { force: true });
    return false;
  }
  const note = readNote(folder);
  if (sizeOf(folder.restoring) !== undefined) {
    setAside(folder, note);
    fs.renameSync(folder.restoring, folder.books);
    syncFolder(folder.root);
    failpoint('restore.swapped');
  }
  recordReplaced(folder, note);
  failpoint('restore.recorded');
  fs.rmSync(folder.restoreNote);
  syncFolder(folder.root);
  return true;
}

export interface RestoreOrder {
  /** UTC ISO instant, for the name the replaced books are kept under. */
  readonly at: string;
  /** Newest shape of books this program can open. */
  readonly newest: number;
}

/**
 * Puts a verified safety copy in the place of the books. Call it with the folder held and the books closed.
 * @param name a name from `listCopies`
 * @throws StorageTrouble `missing` when there is no such copy, `damaged` when its hash no longer fits, `newer` when
 * this program could not open it
 */
export function restoreCopy(
  folder: WorkshopFolder,
  name: string,
  { at, newest }: RestoreOrder,
): { readonly keptAs: string } {
  const copy = listCopies(folder).find((each) => each.name === name);
  if (!copy)
    throw new StorageTrouble(
      'missing',
      `There is no verified safety copy called ${name}. Choose another one.`,
    );
  const source = path.join(folder.backups, name);
  if (sha256OfFile(source) !== copy.sha256) {
    throw new StorageTrouble(
      'damaged',
      `The safety copy ${name} has changed since it was checked. Choose another one.`,
    );
  }
  if (copy.shape > newest) {
    throw new StorageTrouble(
      'newer',
      `The safety copy ${name} was made with a newer Knifewright. Install the newer Knifewright to go back to it.`,
    );
  }
  fs.rmSync(folder.restoring, { force: true });
  fs.copyFileSync(source, folder.restoring, fs.constants.COPYFILE_EXCL);
  fs.chmodSync(folder.restoring, 0o600);
  syncFile(folder.restoring);
  failpoint('restore.copied');
  const stem = `replaced-${at.slice(0, 19).replaceAll(/[-:]/g, '')}`;
  let keepAs = `${stem}.db`;
  for (let n = 2; fs.existsSync(path.join(folder.backups, keepAs)); n += 1) keepAs = `${stem}-${n}.db`;
  writeDurably(folder.restoreNote, JSON.stringify({ keepAs, at } satisfies RestoreNote));
  failpoint('restore.noted');
  finishRestore(folder);
  return { keptAs: keepAs };
}

/** Where everything of one workshop lies. */
import fs from 'node:fs';
import path from 'node:path';
import { makePrivateFolder } from './durable.ts';

/** Paths inside a workshop folder. */
export interface WorkshopFolder {
  readonly root: string;
  /** The live books. Only SQLite may touch this file while they are open. */
  readonly books: string;
  readonly attachments: string;
  readonly documents: string;
  readonly backups: string;
  /** Archives of everything, taken out or to be brought in; there only once there is one. */
  readonly archives: string;
  readonly lock: string;
  readonly holder: string;
  /** Present only while a restore is under way. */
  readonly restoreNote: string;
  readonly restoring: string;
  /** New books under construction; becomes `books` by a rename. */
  readonly making: string;
}

/** Names the paths; touches nothing. */
export function workshopFolder(root: string): WorkshopFolder {
  const at = (name: string) => path.join(root, name);
  return {
    root,
    books: at('workshop.db'),
    attachments: at('attachments'),
    documents: at('documents'),
    backups: at('backups'),
    archives: at('archives'),
    lock: at('holder.lock'),
    holder: at('holder.json'),
    restoreNote: at('restore.json'),
    restoring: at('workshop.db.restoring'),
    making: at('workshop.db.making'),
  };
}

/** An instant as a person reads it: `2024-07-06 09:30 UTC`. */
export const inWords = (instant: string): string => `${instant.slice(0, 16).replace('T', ' ')} UTC`;

/** Size of a file in bytes, or undefined when there is none. Opens no handle, so it is safe on the live books. */
export const sizeOf = (file: string): number | undefined =>
  fs.statSync(file, { throwIfNoEntry: false })?.size;

/** Makes the folders that are not there yet; only this person may enter them. */
export function makeFolders(folder: WorkshopFolder): void {
  for (const each of [folder.root, folder.attachments, folder.documents, folder.backups])
    makePrivateFolder(each);
}

/** True when the folder holds papers, pictures or safety copies although it has no books. */
export function holdsRemains(folder: WorkshopFolder): boolean {
  const filled = (each: string) => fs.existsSync(each) && fs.readdirSync(each).length > 0;
  return [folder.attachments, folder.documents, folder.backups].some(filled);
}

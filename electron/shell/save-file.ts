/** Asks where a file should go and writes it there in one step. */
import { randomBytes } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open, rename, rm, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { app, dialog } from 'electron';
import type { BrowserWindow } from 'electron';
import { FaultError } from '../api/errors.ts';
import { copyWhole, receiveArchive } from '../hosting/archive-files.ts';
import type { SavedFile } from '../hosting/workshop-switch.ts';
import { safeFileName } from './save-name.ts';

const writeWhole = async (path: string, bytes: Uint8Array): Promise<void> => {
  // Beside the target, so that the rename cannot cross disks and a half-written file never bears the name.
  const half = `${path}.${randomBytes(6).toString('hex')}.part`;
  try {
    const file = await open(half, 'wx', 0o600);
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(half, path);
  } catch {
    await rm(half, { force: true });
    throw new FaultError({
      kind: 'storage',
      message: 'The file could not be written there. Choose another folder or make room on the disk.',
    });
  }
};

type Parent = () => BrowserWindow | undefined;

/** Shows the save window. @returns the path that was chosen, or nothing */
const askWhere = async (window: Parent, name: string): Promise<string | undefined> => {
  const options = { defaultPath: join(app.getPath('documents'), safeFileName(name)) };
  const parent = window();
  const chosen = await (parent === undefined
    ? dialog.showSaveDialog(options)
    : dialog.showSaveDialog(parent, options));
  return chosen.canceled || chosen.filePath === '' ? undefined : chosen.filePath;
};

/** @returns a function that shows the save window over `window` */
export const createSaver =
  (window: Parent) =>
  async (name: string, bytes: Uint8Array): Promise<SavedFile> => {
    const path = await askWhere(window, name);
    if (path === undefined) return { saved: false };
    await writeWhole(path, bytes);
    return { saved: true, path };
  };

/** @returns a function that shows the save window and copies a file of the workshop folder there */
export const createHandOut =
  (window: Parent) =>
  async (file: string, name: string): Promise<SavedFile> => {
    const path = await askWhere(window, name);
    if (path === undefined) return { saved: false };
    await copyWhole(file, path);
    return { saved: true, path };
  };

/** @returns a function that asks for an archive and takes it in among those of the workshop folder */
export const createTakeIn =
  (window: Parent) =>
  async (folder: string): Promise<string | null> => {
    const options: Electron.OpenDialogOptions = {
      properties: ['openFile'],
      filters: [{ name: 'Archive', extensions: ['zip'] }],
    };
    const parent = window();
    const chosen = await (parent === undefined
      ? dialog.showOpenDialog(options)
      : dialog.showOpenDialog(parent, options));
    const path = chosen.canceled ? undefined : chosen.filePaths[0];
    if (path === undefined) return null;
    const { size } = await stat(path);
    return receiveArchive(folder, basename(path), createReadStream(path), size);
  };

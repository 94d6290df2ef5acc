/** Asks where a file should go and writes it there in one step. */
import { randomBytes } from 'node:crypto';
import { open, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { app, dialog } from 'electron';
import type { BrowserWindow } from 'electron';
import { FaultError } from '../api/errors.ts';
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

/** @returns a function that shows the save window over `window` */
export const createSaver =
  (window: () => BrowserWindow | undefined) =>
  async (name: string, bytes: Uint8Array): Promise<SavedFile> => {
    const options = { defaultPath: join(app.getPath('documents'), safeFileName(name)) };
    const parent = window();
    const chosen = await (parent === undefined
      ? dialog.showSaveDialog(options)
      : dialog.showSaveDialog(parent, options));
    if (chosen.canceled || chosen.filePath === '') return { saved: false };
    await writeWhole(chosen.filePath, bytes);
    return { saved: true, path: chosen.filePath };
  };

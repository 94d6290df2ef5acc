/**
 * Folders of their own for tests, removed after each file of tests (`build/vitest-setup.ts` sees to that).
 * Books whose use-cases or screens are tested lie in memory where the machine offers that: every command
 * waits for the disk otherwise. What is tested about the disk itself lies on it.
 */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';

const memory = '/dev/shm';
/** Several workshops at a time, the demo among them, with room to spare. */
const roomWanted = 1 << 30;

const memoryHasRoom = (): boolean => {
  try {
    fs.accessSync(memory, fs.constants.W_OK);
    const { bavail, bsize } = fs.statfsSync(memory);
    return bavail * bsize >= roomWanted;
  } catch {
    // No such place here.
    return false;
  }
};

const quickPlace = memoryHasRoom() ? memory : os.tmpdir();
const made: string[] = [];

const folderIn = (place: string, prefix: string): string => {
  const folder = fs.mkdtempSync(path.join(place, prefix));
  made.push(folder);
  return folder;
};

/** A fresh empty folder, in memory where that can be had. */
export const quickFolder = (prefix: string): string => folderIn(quickPlace, prefix);

/** A fresh empty folder on the disk. */
export const diskFolder = (prefix: string): string => folderIn(os.tmpdir(), prefix);

/** A folder all files of tests of one run share; `build/vitest-run.ts` names it before and removes it after. */
export const runFolder = (): string => {
  const folder = path.join(quickPlace, process.env['KNIFEWRIGHT_RUN'] ?? 'knifewright-run');
  fs.mkdirSync(folder, { recursive: true });
  return folder;
};

/** Removes every folder given out so far. */
export const removeFolders = (): void => {
  for (const folder of made.splice(0)) fs.rmSync(folder, { recursive: true, force: true });
};

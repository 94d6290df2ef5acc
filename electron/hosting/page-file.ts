/** Reads one file of the built page, and nothing outside its folder. */
import { readFileSync, realpathSync } from 'node:fs';
import { join, sep } from 'node:path';
import { contentTypeOf } from './page-policy.ts';

export interface PageFile {
  readonly bytes: Uint8Array;
  readonly type: string;
}

/**
 * Reads a page file, at once: each of them is small and lies on this machine, and the first screen waits for a dozen; sent
 * round by the thread pool, every one of them would wait for several turns.
 * @param root folder of the built page
 * @param file relative path as answered by `pageFileOf`
 * @returns nothing when there is no such file, or when a link leads out of the folder
 */
export const readPageFile = (root: string, file: string): PageFile | undefined => {
  const type = contentTypeOf(file);
  if (type === undefined) return undefined;
  try {
    const home = realpathSync.native(root);
    const found = realpathSync.native(join(home, file));
    if (!found.startsWith(home + sep)) return undefined;
    return { bytes: readFileSync(found), type };
  } catch {
    // Missing, a folder, or not readable: for a caller all the same.
    return undefined;
  }
};

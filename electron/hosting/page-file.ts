/** Reads one file of the built page, and nothing outside its folder. */
import { readFile, realpath } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { contentTypeOf } from './page-policy.ts';

export interface PageFile {
  readonly bytes: Uint8Array;
  readonly type: string;
}

/**
 * Reads a page file.
 * @param root folder of the built page
 * @param file relative path as answered by `pageFileOf`
 * @returns nothing when there is no such file, or when a link leads out of the folder
 */
export const readPageFile = async (root: string, file: string): Promise<PageFile | undefined> => {
  const type = contentTypeOf(file);
  if (type === undefined) return undefined;
  try {
    const home = await realpath(root);
    const found = await realpath(join(home, file));
    if (!found.startsWith(home + sep)) return undefined;
    return { bytes: await readFile(found), type };
  } catch {
    // Missing, a folder, or not readable: for a caller all the same.
    return undefined;
  }
};

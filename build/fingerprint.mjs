/** Fingerprints of source files: what was built from them need not be built again. */
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

/** All files at or under a path, in a stable order. @param {string} start @returns {string[]} */
export const filesUnder = (start) => {
  if (!existsSync(start)) return [];
  if (statSync(start).isFile()) return [start];
  return readdirSync(start, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath, entry.name))
    .sort();
};

/**
 * One hash over names and contents, so that a touched but unchanged file does not count.
 * @param {string} base @param {readonly string[]} sources paths relative to the base
 */
export const fingerprint = (base, sources) => {
  const hash = createHash('sha256');
  for (const file of sources.flatMap((source) => filesUnder(path.join(base, source)))) {
    hash.update(path.relative(base, file)).update('\0').update(readFileSync(file)).update('\0');
  }
  return hash.digest('hex');
};

/**
 * Does a piece of work unless its stamp says that it was done from the same sources and its products are there.
 * @param {{ base: string, sources: readonly string[], stamp: string, products: readonly string[] }} piece
 * @param {() => Promise<void>} work
 * @returns {Promise<boolean>} whether the work was done
 */
export const unlessUnchanged = async (piece, work) => {
  const now = fingerprint(piece.base, piece.sources);
  const unchanged = existsSync(piece.stamp) && readFileSync(piece.stamp, 'utf8') === now;
  if (unchanged && piece.products.every((product) => existsSync(product))) return false;
  rmSync(piece.stamp, { force: true });
  await work();
  mkdirSync(path.dirname(piece.stamp), { recursive: true });
  writeFileSync(piece.stamp, now);
  return true;
};

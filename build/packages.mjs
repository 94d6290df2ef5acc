/** The packages in node_modules: are they the ones the lock file names, and if not, put them there. */
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { runNpm } from './npm.mjs';
import { root } from './places.mjs';
import { PlainFailure, say } from './say.mjs';

/**
 * @typedef {Readonly<Record<string, { version?: string, integrity?: string, optional?: boolean }>>} Entries
 */

/** @param {string} file @returns {Entries} */
const readEntries = (file) => {
  const parsed = /** @type {{ packages?: Entries }} */ (JSON.parse(readFileSync(file, 'utf8')));
  return parsed.packages ?? {};
};

/**
 * Whether what npm recorded as installed is what the lock file asks for. Optional packages may be absent
 * (they are for other machines), but not of another version.
 * @param {Entries} wanted @param {Entries} installed
 */
export const sameEntries = (wanted, installed) => {
  const names = Object.keys(wanted).filter((name) => name !== '');
  const allThere = names.every((name) => {
    const have = installed[name];
    if (have === undefined) return wanted[name]?.optional === true;
    return have.version === wanted[name]?.version && have.integrity === wanted[name]?.integrity;
  });
  return allThere && Object.keys(installed).every((name) => wanted[name] !== undefined);
};

/** npm writes this record last, so a broken installation has none. */
const installedMatches = () => {
  const record = path.join(root, 'node_modules', '.package-lock.json');
  if (!existsSync(record)) return false;
  return sameEntries(readEntries(path.join(root, 'package-lock.json')), readEntries(record));
};

/** Installs the packages of the lock file where they are missing or others. */
export const ensurePackages = async () => {
  if (installedMatches()) return;
  say('Installing the packages Knifewright is built from; this takes a minute or two …');
  await runNpm(['ci'], { cwd: root, stillText: 'still installing' });
  if (!installedMatches()) {
    throw new PlainFailure(
      'npm reported success, but the packages are not the ones in package-lock.json. ' +
        'Delete the folder node_modules and run the command again.',
    );
  }
  say('Packages are in place.');
};

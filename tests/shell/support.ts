/** Sources and places the desktop tests look at. */
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url));

/** Every source file below a folder of the project, with its text. */
export const sourcesIn = (folder: string): readonly { readonly name: string; readonly text: string }[] =>
  readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(?:ts|svelte|html|mjs)$/.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .map((path) => ({
      name: path.slice(root.length).replaceAll('\\', '/'),
      text: readFileSync(path, 'utf8'),
    }));

/** Names of the files below `folder` whose text matches. */
export const filesWith = (folder: string, pattern: RegExp): readonly string[] =>
  sourcesIn(folder)
    .filter(({ text }) => pattern.test(text))
    .map(({ name }) => name)
    .sort();

/** Text of one file of the project. */
export const textOf = (name: string): string => readFileSync(join(root, name), 'utf8');

/** The Electron program, where it has been fetched; looking must never start a download. */
export const electronProgram = (): string | undefined => {
  const folder = dirname(createRequire(import.meta.url).resolve('electron/package.json'));
  const note = join(folder, 'path.txt');
  const name = existsSync(note) ? readFileSync(note, 'utf8').trim() : 'electron';
  const elsewhere = process.env['ELECTRON_OVERRIDE_DIST_PATH'];
  const program = join(elsewhere ?? join(folder, 'dist'), name);
  return existsSync(program) ? program : undefined;
};

/** Where things are in the project folder. */
import path from 'node:path';
import { fileURLToPath } from 'node:url';

/** The project folder. */
export const root = path.dirname(path.dirname(fileURLToPath(import.meta.url)));

/** Build output: may be deleted at any time. */
export const outFolder = path.join(root, '.out');

/** What the set-up obtained for this machine: may be deleted at any time. */
export const setupFolder = path.join(root, '.setup');

/** @param {string} name a package's script, such as `vite/bin/vite.js` */
export const packageFile = (name) => path.join(root, 'node_modules', ...name.split('/'));

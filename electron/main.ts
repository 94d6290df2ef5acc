/** Entry of the desktop application: composition only. */
import { homedir } from 'node:os';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { app } from 'electron';
import packageFile from '../package.json' with { type: 'json' };
import { parseFlags } from './hosting/flags.ts';
import { workshopFolders } from './hosting/folders.ts';
import { createOpener } from './hosting/open-workshop.ts';
import { desktopArguments } from './shell/arguments.ts';
import { startDesktop } from './shell/desktop.ts';
import { startEngine } from './workshop/engine.ts';

const read = parseFlags(desktopArguments(process.argv));
if (read.ok) {
  const { flags } = read;
  const around = { platform: process.platform, env: process.env, home: homedir() };
  const folders = workshopFolders(around, flags.data === undefined ? undefined : resolve(flags.data));
  startDesktop({
    folders,
    start: flags.demo ? 'demo' : 'own',
    version: packageFile.version,
    rendererRoot: fileURLToPath(new URL('../renderer/', import.meta.url)),
    preload: fileURLToPath(new URL('preload.cjs', import.meta.url)),
    openWorkshop: createOpener({ kind: 'desktop', folders, startEngine }),
  });
} else {
  process.stderr.write(`${read.message}\n`);
  app.exit(2);
}

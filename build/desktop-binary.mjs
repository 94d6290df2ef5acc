/** Whether the desktop window can open here, and the program that opens it. */
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { packageFile, setupFolder } from './places.mjs';
import { runQuietly } from './run.mjs';
import { say } from './say.mjs';

const day = 24 * 60 * 60 * 1000;
const fetchLimitMs = 5 * 60 * 1000;
const failureNote = path.join(setupFolder, 'desktop-not-fetched');

/**
 * Why no desktop window can open in this session, or undefined when one can.
 * @param {{ platform: string, isRoot: boolean, env: NodeJS.ProcessEnv }} session
 */
export const windowObstacle = ({ platform, isRoot, env }) => {
  if (platform !== 'linux') return undefined;
  if (isRoot) return 'this session runs as root, where the window’s protection does not work';
  if ((env['DISPLAY'] ?? '') === '' && (env['WAYLAND_DISPLAY'] ?? '') === '') {
    return 'this session has no display';
  }
  return undefined;
};

/** The desktop program where it is already there. */
const installed = () => {
  const folder = packageFile('electron');
  const record = path.join(folder, 'path.txt');
  const inside = existsSync(record) ? readFileSync(record, 'utf8').trim() : defaultProgram();
  const dist = process.env['ELECTRON_OVERRIDE_DIST_PATH'] ?? path.join(folder, 'dist');
  const program = path.join(dist, inside);
  return existsSync(program) ? program : undefined;
};

const defaultProgram = () => {
  if (process.platform === 'darwin') return 'Electron.app/Contents/MacOS/Electron';
  return process.platform === 'win32' ? 'electron.exe' : 'electron';
};

/** A failed try is remembered for a day, so that the next start is quick. */
const failedLately = () => existsSync(failureNote) && Date.now() - statSync(failureNote).mtimeMs < day;

/**
 * The desktop program, fetched where it is missing.
 * @returns {Promise<string | undefined>} undefined when it is not there and could not be fetched
 */
export const desktopProgram = async () => {
  const there = installed();
  if (there !== undefined) return there;
  if (failedLately()) return undefined;
  say('Fetching the desktop window’s program, once …');
  mkdirSync(setupFolder, { recursive: true });
  const outcome = await runQuietly(process.execPath, [packageFile('electron/install.js')], {
    limitMs: fetchLimitMs,
    stillText: 'still fetching',
    env: { ...process.env, electron_config_cache: path.join(setupFolder, 'desktop-cache') },
  });
  const program = installed();
  if (outcome.code !== 0 || program === undefined) {
    writeFileSync(failureNote, '');
    return undefined;
  }
  return program;
};

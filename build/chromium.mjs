/** Obtaining a Chromium for the tests that look at the pages as a person does. */
import { accessSync, constants, existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { packageFile, setupFolder } from './places.mjs';
import { runQuietly } from './run.mjs';
import { PlainFailure, say } from './say.mjs';

const downloadLimitMs = 60_000;
const debianLimitMs = 10 * 60 * 1000;
const browsersFolder = path.join(setupFolder, 'browsers');

/** @param {string} file */
const isProgram = (file) => {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

/** The browser that an earlier download left in the private folder. */
const downloaded = () => {
  if (!existsSync(browsersFolder)) return undefined;
  return readdirSync(browsersFolder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /^(chrome|Chromium|chrome-headless-shell)(\.exe)?$/.test(entry.name))
    .map((entry) => path.join(entry.parentPath, entry.name))
    .find(isProgram);
};

/** The browser library's own download, where this network lets it through. */
const download = async () => {
  const there = downloaded();
  if (there !== undefined) return there;
  say('Fetching a Chromium for the tests …');
  const outcome = await runQuietly(
    process.execPath,
    [packageFile('playwright-core/cli.js'), 'install', 'chromium'],
    {
      limitMs: downloadLimitMs,
      stillText: 'still fetching',
      env: { ...process.env, PLAYWRIGHT_BROWSERS_PATH: browsersFolder },
    },
  );
  return outcome.code === 0 ? downloaded() : undefined;
};

const onThisMachine = () =>
  ['/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(isProgram);

/** Debian's package, which only root may install. */
const fromDebian = async () => {
  if (process.getuid?.() !== 0 || !isProgram('/usr/bin/apt-get')) return undefined;
  say('Installing Debian’s Chromium for the tests …');
  const options = {
    limitMs: debianLimitMs,
    stillText: 'still installing',
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  };
  await runQuietly('/usr/bin/apt-get', ['update'], options);
  await runQuietly('/usr/bin/apt-get', ['install', '-y', '--no-install-recommends', 'chromium'], options);
  return onThisMachine();
};

/**
 * The path of a Chromium: the one named in `KNIFEWRIGHT_CHROMIUM`, this machine's, a downloaded one, or Debian's.
 * @returns {Promise<string>}
 * @throws {PlainFailure} when none is to be had
 */
export const obtainChromium = async () => {
  const named = process.env['KNIFEWRIGHT_CHROMIUM'];
  if (named !== undefined && named !== '') {
    if (isProgram(named)) return named;
    throw new PlainFailure(`KNIFEWRIGHT_CHROMIUM names ${named}, which is not a program that can be run.`);
  }
  const found = onThisMachine() ?? (await download()) ?? (await fromDebian());
  if (found !== undefined) return found;
  throw new PlainFailure(
    'No Chromium is on this machine and none could be fetched. Install Chromium, or name one in ' +
      'KNIFEWRIGHT_CHROMIUM, or run “npm test -- --without-browser” to leave out the tests that need it.',
  );
};

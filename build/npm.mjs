/** Finding and running the package manager, and saying in plain words why it failed. */
import { existsSync } from 'node:fs';
import path from 'node:path';
import { PlainFailure, withoutAddresses } from './say.mjs';
import { runQuietly } from './run.mjs';

/**
 * What is said for the reasons npm gives, most telling first.
 * @type {readonly (readonly [RegExp, string])[]}
 */
const reasons = [
  [
    /ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ERR_SOCKET_TIMEOUT|ENETUNREACH|EHOSTUNREACH|network/,
    'The package registry could not be reached. Check the network connection and run the command again.',
  ],
  [
    /EROFS|EACCES|EPERM/,
    'Files could not be written. Check that this folder belongs to you and is not read-only, then run the command again.',
  ],
  [/ENOSPC/, 'The disk is full. Free some space and run the command again.'],
  [
    /EUSAGE|in sync/,
    'package.json and package-lock.json do not agree. Restore both from the project and run the command again.',
  ],
  [
    /EINTEGRITY/,
    'A package arrived damaged or altered. Run the command again; if it happens twice, do not use this network.',
  ],
  [
    /E404|ETARGET/,
    'A package of the exact version that is needed is not in the registry that npm is set to use.',
  ],
];

/** Turns npm's output into a sentence. @param {string} output */
export const explainNpmFailure = (output) => {
  const known = reasons.find(([pattern]) => pattern.test(output));
  if (known !== undefined) return known[1];
  const lines = withoutAddresses(output)
    .split('\n')
    .filter((line) => line.startsWith('npm error') && !line.includes('complete log'));
  return `npm could not install the packages. It said:\n${lines.slice(0, 6).join('\n')}`;
};

/** Looks for npm's own program beside the Node that runs this. */
const npmBesideNode = () => {
  const folder = path.dirname(process.execPath);
  return [
    path.join(folder, '..', 'lib', 'node_modules', 'npm', 'bin', 'npm-cli.js'),
    path.join(folder, 'node_modules', 'npm', 'bin', 'npm-cli.js'),
    path.join(folder, '..', 'share', 'nodejs', 'npm', 'bin', 'npm-cli.js'),
  ].find((file) => existsSync(file));
};

/**
 * The words that start npm: its script under this Node where it can be found, else `npm` from the path.
 * @returns {{ command: string, first: string[] }}
 */
const npmCommand = () => {
  const given = process.env['npm_execpath'];
  const script = given !== undefined && /npm-cli\.c?js$/.test(given) ? given : npmBesideNode();
  if (script !== undefined) return { command: process.execPath, first: [script] };
  return { command: process.platform === 'win32' ? 'npm.cmd' : 'npm', first: [] };
};

/**
 * The environment without what an outer `npm start` adds about itself, so that the inner npm decides afresh
 * where it works.
 */
const environment = () =>
  Object.fromEntries(
    Object.entries(process.env).filter(
      ([name]) => !/^npm_(lifecycle|package|command|config_(local_prefix|prefix))/i.test(name),
    ),
  );

/**
 * Runs npm quietly and fails with a sentence when it fails.
 * @param {readonly string[]} args @param {{ cwd: string, stillText: string }} options
 */
export const runNpm = async (args, options) => {
  const { command, first } = npmCommand();
  const outcome = await runQuietly(
    command,
    [...first, ...args, '--no-audit', '--no-fund', '--ignore-scripts'],
    {
      ...options,
      env: environment(),
    },
  );
  if (outcome.code === 127) {
    throw new PlainFailure('npm was not found. Install Node together with npm 11 and run the command again.');
  }
  if (outcome.code !== 0) throw new PlainFailure(explainNpmFailure(outcome.output));
};

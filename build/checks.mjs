/** The checks of the source itself, each a program of its own so that two can run at a time. */
import path from 'node:path';
import { packageFile, root } from './places.mjs';
import { headline, say } from './say.mjs';
import { runQuietly } from './run.mjs';

/**
 * @typedef {object} Check
 * @property {string} name
 * @property {string[]} words script and its arguments, run under this Node
 */

/**
 * The words that run the linter for the rules that need types; its habits are in `.oxlintrc.json`.
 * @param {...string} words
 */
export const typedLinter = (...words) => [
  packageFile('oxlint/bin/oxlint'),
  '--config',
  path.join(root, '.oxlintrc.json'),
  '--disable-nested-config',
  ...words,
];

/**
 * First those that take most memory, so that they are done before the browser tests; then the longest.
 * @type {readonly Check[]}
 */
export const checks = [
  {
    // Reads every TypeScript file as well, so that no compiler is run beside it. The native compiler answers it; with one
    // checker, because each further one works out the same types again.
    name: 'Types (svelte-check)',
    words: [
      packageFile('svelte-check/bin/svelte-check'),
      '--tsgo',
      '--tsconfig',
      '.types.json',
      '--fail-on-warnings',
      '--no-color',
    ],
  },
  { name: 'Habits that need types (oxlint)', words: typedLinter() },
  {
    name: 'Habits (eslint)',
    words: [
      packageFile('eslint/bin/eslint.js'),
      '--config',
      'build/eslint.config.mjs',
      '--max-warnings',
      '0',
      '.',
    ],
  },
  {
    name: 'Layout of the source (prettier)',
    words: [packageFile('prettier/bin/prettier.cjs'), '--check', '--log-level', 'warn', '.'],
  },
  {
    name: 'Layers (dependency-cruiser)',
    words: [
      packageFile('dependency-cruiser/bin/dependency-cruiser.mjs'),
      '--config',
      'build/layers.mjs',
      '--output-type',
      'err',
      'electron',
      'renderer',
      'migrations',
    ],
  },
  {
    name: 'Nothing unused (knip)',
    words: [packageFile('knip/bin/knip.js'), '--config', 'build/knip.json', '--no-progress'],
  },
  { name: 'Sizes and excuses', words: [path.join(root, 'build', 'check-files.mjs')] },
];

/** Compilers and linters make much that is soon thrown away; more room for it spares a fifth of their time. */
const roomForYoung = '--max-semi-space-size=64';

/**
 * Runs one check and shows what it says.
 * @param {Check} check
 * @returns {Promise<boolean>} whether it passed
 */
const runCheck = async (check) => {
  const started = performance.now();
  const outcome = await runQuietly(process.execPath, [roomForYoung, ...check.words], {
    cwd: root,
    env: { ...process.env, FORCE_COLOR: '0' },
    giveWay: true,
  });
  const seconds = ((performance.now() - started) / 1000).toFixed(1);
  const passed = outcome.code === 0;
  headline(`${check.name}: ${passed ? 'passed' : 'FAILED'} (${seconds} s)`);
  if (outcome.output.trim() !== '') say(outcome.output.trim());
  return passed;
};

/**
 * Starts the checks, two at a time. The tests wait for the disk, the clock and the browser now and then; so the checks
 * not done when the tests begin run beside them, one at a time and giving way, instead of all before them.
 * @param {readonly Check[]} [list]
 */
export const startChecks = (list = checks) => {
  const waiting = [...list];
  let beside = false;
  let failed = 0;
  /** @param {() => boolean} wanted */
  const lane = async (wanted) => {
    while (wanted()) {
      const next = waiting.shift();
      if (next === undefined) return;
      if (!(await runCheck(next))) failed += 1;
    }
  };
  const first = Promise.all([lane(() => true), lane(() => !beside)]);
  return {
    /** From now on something that matters more runs beside them. */
    giveWay: () => {
      beside = true;
    },
    /** Begins no further one. */
    drop: () => {
      waiting.length = 0;
    },
    /** Runs what is left, two at a time again. @returns {Promise<number>} how many failed of all */
    finish: async () => {
      beside = false;
      await Promise.all([first, lane(() => true)]);
      return failed;
    },
  };
};

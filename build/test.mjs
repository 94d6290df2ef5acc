/** `npm test`: set-up, checks of the source, build, tests, and one line that sums up. */
import { readFileSync, rmSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundle } from './bundle.mjs';
import { startChecks } from './checks.mjs';
import { obtainChromium } from './chromium.mjs';
import { outFolder, packageFile, root } from './places.mjs';
import { runQuietly, runShown } from './run.mjs';
import { headline, PlainFailure, runMain, say } from './say.mjs';
import { withSetup } from './setup.mjs';

const resultsFile = path.join(outFolder, 'test-results.json');
const leftOutFile = path.join(outFolder, 'test-left-out.json');
const vitest = packageFile('vitest/vitest.mjs');
const vitestConfig = path.join(root, 'build', 'vitest.config.ts');

/** @typedef {{ passed: number, failed: number, skipped: number }} Counts */

/**
 * What the test runner's own report says, as far as it is read here.
 * @typedef {{ numPassedTests: number, numFailedTests: number, numPendingTests: number, numTodoTests: number }} Results
 */

/** @param {string} file @returns {Counts} */
const readCounts = (file) => {
  const results = /** @type {Results} */ (JSON.parse(readFileSync(file, 'utf8')));
  return {
    passed: results.numPassedTests,
    failed: results.numFailedTests,
    skipped: results.numPendingTests + results.numTodoTests,
  };
};

/** How many tests are left out when no browser is wanted: all are collected, and none has this name. */
const countBrowserTests = async () => {
  await runQuietly(
    process.execPath,
    [
      vitest,
      'run',
      '--config',
      vitestConfig,
      '--project',
      'house',
      '--testNamePattern',
      '^no test has this name$',
      '--reporter=json',
      `--outputFile=${leftOutFile}`,
    ],
    { cwd: root },
  );
  return readCounts(leftOutFile).skipped;
};

/**
 * Runs the tests.
 * @param {string | undefined} chromium path of the browser, or undefined to leave the browser tests out
 * @returns {Promise<Counts & { code: number }>}
 */
const runTests = async (chromium) => {
  headline('Tests (vitest)');
  rmSync(resultsFile, { force: true });
  const outcome = await runShown(
    process.execPath,
    [
      vitest,
      'run',
      '--config',
      vitestConfig,
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${resultsFile}`,
      ...(chromium === undefined ? ['--project', 'rooms'] : []),
    ],
    {
      cwd: root,
      env: {
        ...process.env,
        ...(chromium === undefined
          ? { KNIFEWRIGHT_WITHOUT_BROWSER: '1', KNIFEWRIGHT_CHROMIUM: '' }
          : { KNIFEWRIGHT_CHROMIUM: chromium }),
      },
    },
  );
  const counts = readCounts(resultsFile);
  const leftOut = chromium === undefined ? await countBrowserTests() : 0;
  return { ...counts, skipped: counts.skipped + leftOut, code: outcome.code };
};

/** What git sees as changed, or undefined outside a git work tree. */
const changedFiles = async () => {
  const outcome = await runQuietly('git', ['status', '--porcelain', '--untracked-files=no'], { cwd: root });
  return outcome.code === 0 ? outcome.output : undefined;
};

/**
 * Everything that runs beside the checks of the source: obtaining a browser, the build, the tests.
 * @param {ReturnType<typeof startChecks>} looks @param {boolean} withBrowser
 */
const besideChecks = async (looks, withBrowser) => {
  try {
    const chromium = withBrowser ? await obtainChromium() : undefined;
    headline('Build');
    await bundle();
    looks.giveWay();
    const counts = await runTests(chromium);
    // Ended by a signal: whoever sent it does not want to wait for the rest.
    if (counts.code > 128) looks.drop();
    return { chromium, counts };
  } catch (problem) {
    looks.drop();
    throw problem;
  }
};

/** @param {boolean} withBrowser */
const test = async (withBrowser) => {
  const before = await changedFiles();
  const looks = startChecks();
  const { chromium, counts } = await besideChecks(looks, withBrowser);
  const { passed, failed, skipped, code } = counts;
  let failedChecks = await looks.finish();
  if ((await changedFiles()) !== before) {
    headline('Tracked files: FAILED, the tests changed some (see git status)');
    failedChecks += 1;
  }
  // A failed check of the source counts as failed, so that the closing line never reads better than the run was.
  const allFailed = failed + failedChecks + (failed === 0 && code !== 0 ? 1 : 0);
  if (failedChecks > 0) say(`\nChecks of the source that failed: ${String(failedChecks)}.`);
  if (chromium === undefined) say('\nThe browser tests were left out as asked; they count as skipped.');
  say(`\n${String(passed)} passed, ${String(allFailed)} failed, ${String(skipped)} skipped`);
  return allFailed === 0 ? 0 : 1;
};

await runMain(() => {
  const words = process.argv.slice(2);
  const unknown = words.find((word) => word !== '--without-browser');
  if (unknown !== undefined) {
    throw new PlainFailure(`“${unknown}” is not known here; the only option is --without-browser.`, 2);
  }
  return withSetup(fileURLToPath(import.meta.url), () => test(words.length === 0));
});

/** `npm start`: sets up, builds, and opens Knifewright on the desktop or, where that cannot be, in the browser. */
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { bundle } from './bundle.mjs';
import { desktopProgram, windowObstacle } from './desktop-binary.mjs';
import { parseStartFlags, startHelp } from './flags.mjs';
import { outFolder, root } from './places.mjs';
import { runShown } from './run.mjs';
import { PlainFailure, runMain, say } from './say.mjs';
import { withSetup } from './setup.mjs';

/** A desktop that ends with an error this soon never showed its window. */
const startedMs = 10_000;

/** 128 + signal number: ended because somebody asked for it. */
const askedToStop = [130, 143];

/** @returns {Promise<{ program: string } | { obstacle: string }>} */
const findDesktop = async () => {
  const isRoot = process.getuid?.() === 0;
  const obstacle = windowObstacle({ platform: process.platform, isRoot, env: process.env });
  if (obstacle !== undefined) return { obstacle };
  const program = await desktopProgram();
  return program === undefined
    ? { obstacle: 'its program is not here and could not be fetched' }
    : { program };
};

/** @param {string[]} passedOn */
const startLoopback = async (passedOn) => {
  const main = path.join(outFolder, 'host', 'main.js');
  // What was compiled once need not be compiled at the next start.
  const env = { ...process.env, NODE_COMPILE_CACHE: path.join(outFolder, 'compile-cache') };
  const outcome = await runShown(process.execPath, ['--enable-source-maps', main, ...passedOn], { env });
  return outcome.code;
};

/**
 * Opens the desktop.
 * @param {string} program @param {string[]} passedOn
 * @returns {Promise<number | undefined>} its exit code, or undefined when no window came up
 */
const startDesktop = async (program, passedOn) => {
  const env = { ...process.env };
  delete env['ELECTRON_RUN_AS_NODE'];
  const started = performance.now();
  const outcome = await runShown(program, [root, ...passedOn], { env });
  const early = performance.now() - started < startedMs;
  const ended = outcome.code === 0 || askedToStop.includes(outcome.code);
  return early && !ended ? undefined : outcome.code;
};

/** @param {import('./flags.mjs').StartFlags} flags */
const start = async (flags) => {
  await bundle();
  if (flags.host === 'loopback' || flags.noOpen) return startLoopback(flags.passedOn);
  const desktop = await findDesktop();
  let obstacle = 'obstacle' in desktop ? desktop.obstacle : '';
  if ('program' in desktop) {
    const code = await startDesktop(desktop.program, flags.passedOn);
    if (code !== undefined) return code;
    obstacle = 'its program ended at once';
  }
  if (flags.host === 'desktop') throw new PlainFailure(`The desktop window cannot open: ${obstacle}.`);
  say(`The desktop window cannot open (${obstacle}), so Knifewright opens in your browser instead.`);
  return startLoopback(flags.passedOn);
};

await runMain(async () => {
  const flags = parseStartFlags(process.argv.slice(2));
  if (flags.help) {
    say(startHelp);
    return 0;
  }
  return withSetup(fileURLToPath(import.meta.url), () => start(flags));
});

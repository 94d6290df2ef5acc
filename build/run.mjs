/** Running other programs: shown to the person, or quietly with a sign of life. */
import { spawn } from 'node:child_process';
import { constants, setPriority } from 'node:os';
import { say } from './say.mjs';

/**
 * @typedef {object} Outcome
 * @property {number} code exit code; 128 + signal number when a signal ended it, 127 when it could not start
 * @property {string} output standard output and error together, in order (empty when shown directly)
 * @property {boolean} timedOut
 */

/**
 * @typedef {object} RunOptions
 * @property {string} [cwd]
 * @property {NodeJS.ProcessEnv} [env]
 * @property {number} [limitMs] ends the program after so long
 * @property {string} [stillText] said every 15 seconds while it runs
 * @property {boolean} [giveWay] lets it have only what time of the processors others leave
 */

/** @param {number | null} code @param {NodeJS.Signals | null} signal */
const exitCodeOf = (code, signal) => code ?? 128 + (signal === null ? 0 : constants.signals[signal]);

/**
 * Lets a program give way to others. Asked for right after its start, all its threads will.
 * @param {number | undefined} pid
 */
const giveWay = (pid) => {
  if (pid === undefined) return;
  try {
    setPriority(pid, constants.priority.PRIORITY_LOW);
  } catch {
    // Already at its end, or a machine that does not allow it: it runs as others do.
  }
};

/**
 * Runs a program and keeps its output.
 * @param {string} command @param {readonly string[]} args @param {RunOptions} [options]
 * @returns {Promise<Outcome>}
 */
export const runQuietly = (command, args, options = {}) =>
  new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: options.cwd,
      env: options.env ?? process.env,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    if (options.giveWay === true) giveWay(child.pid);
    let output = '';
    let timedOut = false;
    const started = performance.now();
    const timers = keepTime(options, started, () => {
      timedOut = true;
      child.kill('SIGKILL');
    });
    /** @param {number} code */
    const finish = (code) => {
      for (const timer of timers) clearInterval(timer);
      resolve({ code, output, timedOut });
    };
    child.stdout.on('data', (/** @type {Buffer} */ piece) => (output += piece.toString()));
    child.stderr.on('data', (/** @type {Buffer} */ piece) => (output += piece.toString()));
    child.on('error', (error) => {
      output += error.message;
      finish(127);
    });
    child.on('close', (code, signal) => {
      finish(exitCodeOf(code, signal));
    });
  });

/** @param {RunOptions} options @param {number} started @param {() => void} onLimit */
const keepTime = (options, started, onLimit) => {
  const timers = [];
  const { limitMs, stillText } = options;
  if (limitMs !== undefined) timers.push(setTimeout(onLimit, limitMs));
  if (stillText !== undefined) {
    const remind = () => {
      say(`  ${stillText} (${String(Math.round((performance.now() - started) / 1000))} s)`);
    };
    timers.push(setInterval(remind, 15_000));
  }
  return timers;
};

/**
 * Runs a program on this terminal until it ends, handing on the signals that ask it to stop.
 * From a keyboard the interrupt already reaches the whole group, so it is handed on only when there is none.
 * @param {string} command @param {readonly string[]} args @param {RunOptions} [options]
 * @returns {Promise<Outcome>}
 */
export const runShown = (command, args, options = {}) =>
  new Promise((resolve) => {
    const child = spawn(command, args, {
      cwd: options.cwd,
      env: options.env ?? process.env,
      stdio: 'inherit',
    });
    /** @param {NodeJS.Signals} signal */
    const handOn = (signal) => {
      if (signal === 'SIGINT' && process.stdin.isTTY) return;
      child.kill(signal);
    };
    process.on('SIGINT', handOn);
    process.on('SIGTERM', handOn);
    /** @param {number} code @param {string} output */
    const finish = (code, output) => {
      process.off('SIGINT', handOn);
      process.off('SIGTERM', handOn);
      resolve({ code, output, timedOut: false });
    };
    child.on('error', (error) => {
      finish(127, error.message);
    });
    child.on('close', (code, signal) => {
      finish(exitCodeOf(code, signal), '');
    });
  });

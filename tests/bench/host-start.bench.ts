/** Starting the host, from the command to the printed address, against a Node process that prints one line. */
import { type ChildProcess, spawn } from 'node:child_process';
import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { freshFolder, removeFolder, setUp } from './books.ts';
import { compare } from './pairs.ts';

const host = fileURLToPath(new URL('../../.out/host/main.js', import.meta.url));
if (!existsSync(host)) throw new Error('The host is not built; run “npm run bench”, which builds it first.');

const folder = freshFolder();
await setUp(folder);
const empty = join(folder, 'empty.mjs');
writeFileSync(empty, `process.stdout.write('open\\n');\nsetInterval(() => undefined, 1000);\n`);

/** As `npm start` starts it: what was compiled once need not be compiled at the next start. */
const env = { ...process.env, NODE_COMPILE_CACHE: join(folder, 'compile-cache') };

/** Starts a program and waits for its first line. */
const started = (words: readonly string[]): Promise<ChildProcess> =>
  new Promise((resolve, reject) => {
    const child = spawn(process.execPath, words, { stdio: ['ignore', 'pipe', 'inherit'], env });
    child.stdout.once('data', () => resolve(child));
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`It ended with ${String(code)} before it was open`)));
  });

/** Ends the program that was started last. */
const ended = (child: ChildProcess | undefined): Promise<void> =>
  new Promise((resolve) => {
    if (child === undefined) {
      resolve();
      return;
    }
    child.removeAllListeners('exit');
    child.once('exit', () => resolve());
    child.kill('SIGTERM');
  });

/** A start is timed; the end is not. */
const side = (words: readonly string[]) => ({
  ready: (): { child?: ChildProcess } => ({}),
  run: async (made: { child?: ChildProcess }) => {
    made.child = await started(words);
  },
  tidy: (made: { child?: ChildProcess }) => ended(made.child),
});

await compare({
  name: 'start of the host',
  limit: 4,
  floorIs: 'a Node process that prints one line',
  ours: side([host, '--no-open', '--data', folder]),
  floor: side([empty]),
});
removeFolder(folder);

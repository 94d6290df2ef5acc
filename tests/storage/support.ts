/** A tiny workshop with a contract of its own, and temporary folders that go away again. */
import { type ChildProcessByStdio, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import path from 'node:path';
import type { Readable } from 'node:stream';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { migrations } from '../../migrations/index.ts';
import type { Migration } from '../../electron/storage/migrate.ts';
import type { OpenOptions } from '../../electron/storage/open.ts';
import { diskFolder } from '../folders.ts';
import { holder } from './support-plain.ts';

/** A fresh empty folder on the disk, removed after the tests of the file. */
export const tempFolder = (): string => diskFolder('knifewright-test-');

/** A folder that does not exist yet, inside a fresh one. */
export const tempWorkshop = (): string => path.join(tempFolder(), 'workshop');

export { holder } from './support-plain.ts';

/** The newest step after the real ones: one table of labels. */
export const labels: Migration = {
  number: (migrations.at(-1)?.number ?? 0) + 10,
  name: 'labels',
  sql: `CREATE TABLE labels (id TEXT PRIMARY KEY, text TEXT NOT NULL) STRICT;
        CREATE TABLE twins (id TEXT PRIMARY KEY REFERENCES labels (id)) STRICT;`,
};

/** A step after `labels` that rebuilds a table other rows point to. */
export const rebuild: Migration = {
  number: labels.number + 10,
  name: 'rebuild',
  sql: `CREATE TABLE labels_new (id TEXT PRIMARY KEY, text TEXT NOT NULL, shelf INTEGER NOT NULL) STRICT;
        INSERT INTO labels_new SELECT id, text, 1 FROM labels;
        DROP TABLE labels;
        ALTER TABLE labels_new RENAME TO labels;`,
};

export const openOptions = (
  list: readonly Migration[] = [...migrations, labels],
  now = '2024-07-06T09:30:00.000Z',
): OpenOptions => ({
  migrations: list,
  holder,
  now,
});

/** Hash of a file that nobody has open. */
export const hashOf = (file: string): string =>
  createHash('sha256').update(fs.readFileSync(file)).digest('hex');

/** Names and hashes of everything in a folder, for "nothing was touched". */
export const contentsOf = (folder: string): Record<string, string> =>
  Object.fromEntries(
    fs
      .readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => path.join(entry.parentPath, entry.name))
      .sort()
      .map((file) => [path.relative(folder, file), hashOf(file)]),
  );

/** Changes a closed file by SQL. */
export function edit(file: string, sql: string): void {
  const db = new Database(file);
  db.exec(sql);
  db.close();
}

/** Reads a closed file by SQL. */
export function look(file: string, sql: string): unknown[] {
  const db = new Database(file, { readonly: true });
  try {
    return db.prepare(sql).all();
  } finally {
    db.close();
  }
}

/** How a child process ended and what it said, one value per line. */
export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly said: readonly unknown[];
  readonly err: string;
}

const childFile = fileURLToPath(new URL('./child.ts', import.meta.url));

/** Children start twice as fast when they share their compiled code. */
const compiled = fileURLToPath(new URL('../../.out/compiled', import.meta.url));

/** For tests that start processes of their own, on a machine that is busy with other things. */
export const CHILD_TIMEOUT_MS = 240_000;

/** A command that runs before `node`, e.g. a limit or a tracer. */
export type Wrapper = readonly [program: string, ...args: string[]];

/** Starts a task of `child.ts` in a process of its own. */
export function startChild(
  args: readonly string[],
  env: Record<string, string> = {},
  wrapper?: Wrapper,
): ChildProcessByStdio<null, Readable, Readable> {
  const line = [...(wrapper ?? []), process.execPath, childFile, ...args];
  return spawn(line[0] ?? '', line.slice(1), {
    env: { ...process.env, NODE_ENV: 'test', NODE_OPTIONS: '', NODE_COMPILE_CACHE: compiled, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
}

/** Waits for a child to end, collecting what it said. */
export function ended(child: ChildProcessByStdio<null, Readable, Readable>): Promise<Ended> {
  const out: string[] = [];
  const err: string[] = [];
  child.stdout.on('data', (data: Buffer) => out.push(data.toString()));
  child.stderr.on('data', (data: Buffer) => err.push(data.toString()));
  return new Promise((resolve) => {
    child.on('close', (code, signal) =>
      resolve({ code, signal, said: lines(out.join('')), err: err.join('') }),
    );
  });
}

/** Complete JSON lines; a line the kill cut short does not count. */
const lines = (text: string): unknown[] =>
  text
    .split('\n')
    .slice(0, -1)
    .map((line) => JSON.parse(line) as unknown);

/** Runs a task to its end. */
export const runChild = (
  args: readonly string[],
  env: Record<string, string> = {},
  wrapper?: Wrapper,
): Promise<Ended> => ended(startChild(args, env, wrapper));

/** Waits for the first line a child says. */
export const firstLine = (child: ChildProcessByStdio<null, Readable, Readable>): Promise<unknown> =>
  new Promise((resolve, reject) => {
    let text = '';
    child.stdout.on('data', (data: Buffer) => {
      text += data.toString();
      if (text.includes('\n')) resolve(JSON.parse(text.slice(0, text.indexOf('\n'))) as unknown);
    });
    child.on('close', () => reject(new Error('the child ended without a word')));
  });

/** Pseudo-random numbers from 0 to 1 that come again with the same seed (a linear congruential generator). */
export function seeded(seed: number): () => number {
  let state = seed % 2_147_483_648;
  return () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
}

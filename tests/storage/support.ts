/** A tiny workshop with a contract of its own, and temporary folders that go away again. */
import { spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { afterEach } from 'vitest';
import { migrations } from '../../migrations/index.ts';
import type { Migration } from '../../electron/storage/migrate.ts';
import type { OpenOptions } from '../../electron/storage/open.ts';
import { holder } from './support-plain.ts';

const places: string[] = [];
afterEach(() => {
  for (const place of places.splice(0)) fs.rmSync(place, { recursive: true, force: true });
});

/** A fresh empty folder, removed after the test. */
export function tempFolder(): string {
  const place = fs.mkdtempSync(path.join(os.tmpdir(), 'knifewright-test-'));
  places.push(place);
  return place;
}

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

export const openOptions = (list: readonly Migration[] = [...migrations, labels], now = '2024-07-06T09:30:00.000Z'): OpenOptions => ({
  migrations: list,
  holder,
  now,
});

/** Hash of a file that nobody has open. */
export const hashOf = (file: string): string => createHash('sha256').update(fs.readFileSync(file)).digest('hex');

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

/** How a child process ended and what it said. */
export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

export const childFile = fileURLToPath(new URL('./child.ts', import.meta.url));

/** Runs a task of `child.ts` in a process of its own. */
export function runChild(args: readonly string[], env: Record<string, string> = {}, identity: { uid?: number; gid?: number } = {}): Promise<Ended> {
  const child = spawn(process.execPath, [childFile, ...args], {
    env: { ...process.env, NODE_ENV: 'test', ...env },
    stdio: ['pipe', 'pipe', 'pipe'],
    ...identity,
  });
  let out = '';
  let err = '';
  child.stdout.on('data', (data: Buffer) => (out += data.toString()));
  child.stderr.on('data', (data: Buffer) => (err += data.toString()));
  return new Promise((resolve) => {
    child.on('close', (code, signal) => resolve({ code, signal, out, err }));
  });
}

/** Which files beside the books belong to an archive: every pair of a path and its hash in any table. */
import type Database from 'better-sqlite3';
import { type ArchiveTable, quoted } from './tables.ts';

/** A file the books speak of. */
export interface SpokenOf {
  /** Relative to the workshop folder, with forward slashes. */
  readonly path: string;
  readonly sha256: string;
}

/** Columns that name a file and the ones that hold its hash: `path` and `sha256`, `document_path` and `document_sha256`, …. */
const filePairs = (table: ArchiveTable): readonly (readonly [path: string, hash: string])[] =>
  table.columns
    .map(({ name }) => name)
    .filter((name) => name === 'path' || name.endsWith('_path'))
    .map((name) => [name, name.replace(/path$/, 'sha256')] as const)
    .filter(([, hash]) => table.columns.some(({ name }) => name === hash));

/** Every file the books speak of, once, in the order of their paths. */
export function filesSpokenOf(db: Database.Database, tables: readonly ArchiveTable[]): readonly SpokenOf[] {
  const found = new Map<string, SpokenOf>();
  for (const table of tables) {
    for (const [path, hash] of filePairs(table)) {
      const sql = `SELECT ${quoted(path)} AS path, ${quoted(hash)} AS sha256 FROM ${quoted(table.name)} WHERE ${quoted(path)} IS NOT NULL AND ${quoted(path)} <> ''`;
      for (const row of db.prepare<[], SpokenOf>(sql).iterate()) found.set(row.path, row);
    }
  }
  return [...found.values()].sort((a, b) => (a.path < b.path ? -1 : 1));
}

/** Makes books out of an archive, and proves that they are the same ones: row by row, and by the journal. */
import { createHash } from 'node:crypto';
import fs from 'node:fs';
import { Writable } from 'node:stream';
import Database from 'better-sqlite3';
import { addFunctions } from '../functions.ts';
import { APPLICATION_ID } from '../header.ts';
import { checkChain } from '../journal.ts';
import { type Migration, migrate, newestShape } from '../migrate.ts';
import { setHarmlessPragmas } from '../pragmas.ts';
import { StorageTrouble } from '../trouble.ts';
import { type Manifest, unusable } from './manifest.ts';
import type { OpenArchive } from './read.ts';
import { type ArchiveTable, inPieces, jsonText, quoted, rowsOf, tablesOf, type Value } from './tables.ts';
import { controlTotals } from './totals.ts';
import type { OnBytes } from './write.ts';

/** How the work is watched and ended. */
export interface Watch {
  readonly signal: AbortSignal;
  readonly onBytes: OnBytes;
}

/** The longest row taken in: a paper of the largest kind, as text. */
const LONGEST_ROW = 300 << 20;

interface Trigger {
  readonly name: string;
  readonly sql: string;
}

/** Takes the triggers away while rows are put in as they were; they come back as they stood. */
function withoutTriggers(db: Database.Database): readonly Trigger[] {
  const found = db.prepare<[], Trigger>(`SELECT name, sql FROM sqlite_master WHERE type = 'trigger'`).all();
  for (const { name } of found) db.exec(`DROP TRIGGER ${quoted(name)}`);
  return found;
}

/** Books of the archive's own shape, with no rows at all. */
function emptyBooks(file: string, manifest: Manifest, migrations: readonly Migration[]): Database.Database {
  if (manifest.shape > newestShape(migrations)) {
    throw new StorageTrouble(
      'newer',
      'This archive was made with a newer Knifewright. Install the newer Knifewright to use it.',
    );
  }
  const upTo = migrations.filter(({ number }) => number <= manifest.shape);
  if (newestShape(upTo) !== manifest.shape)
    throw unusable('Its books have a shape this Knifewright never made.');
  fs.closeSync(fs.openSync(file, 'wx', 0o600));
  const db = new Database(file, { fileMustExist: true });
  setHarmlessPragmas(db);
  // The file counts only when it is whole and was flushed.
  db.pragma('synchronous = 0');
  addFunctions(db);
  db.pragma(`application_id = ${APPLICATION_ID}`);
  migrate(db, upTo);
  db.pragma('foreign_keys = 0');
  return db;
}

const isBytes = (value: unknown): value is { readonly base64: string } =>
  typeof value === 'object' && value !== null && 'base64' in value && typeof value.base64 === 'string';

function storedValue(value: unknown, where: string): Value {
  if (value === null || typeof value === 'string' || Number.isSafeInteger(value)) return value as Value;
  if (typeof value === 'number') return value;
  if (isBytes(value)) return Buffer.from(value.base64, 'base64');
  throw unusable(`${where} holds a value no table can hold.`);
}

function rowOf(line: string, table: ArchiveTable, where: string): Value[] {
  let row: unknown;
  try {
    row = JSON.parse(line);
  } catch {
    throw unusable(`${where} holds a line that cannot be read.`);
  }
  if (typeof row !== 'object' || row === null) throw unusable(`${where} holds a line that is no row.`);
  const fields = new Map<string, unknown>(Object.entries(row));
  return table.columns.map(({ name }) => {
    if (!fields.has(name)) throw unusable(`${where} holds a row without ${name}.`);
    return storedValue(fields.get(name), where);
  });
}

/** Takes a JSON array apart, one row on each line, and puts each row in. */
function rowsInto(db: Database.Database, table: ArchiveTable, where: string): Writable {
  const names = table.columns.map(({ name }) => quoted(name)).join(', ');
  const marks = table.columns.map(() => '?').join(', ');
  const insert = db.prepare(`INSERT INTO ${quoted(table.name)} (${names}) VALUES (${marks})`);
  const decoder = new TextDecoder('utf-8', { fatal: true });
  let rest = '';
  const take = (line: string): void => {
    const text = line.endsWith(',') ? line.slice(0, -1) : line;
    if (text === '' || text === '[' || text === ']') return;
    insert.run(...rowOf(text, table, where));
  };
  const takeAll = (text: string): void => {
    const lines = (rest + text).split('\n');
    rest = lines.pop() ?? '';
    if (rest.length > LONGEST_ROW) throw unusable(`${where} holds a line that never ends.`);
    for (const line of lines) take(line);
  };
  const tryTo = (work: () => void, done: (error?: Error | null) => void): void => {
    try {
      work();
      done();
    } catch (error) {
      const plain = error instanceof TypeError ? unusable(`${where} is not written in UTF-8.`) : error;
      done(plain instanceof Error ? plain : new Error(String(plain)));
    }
  };
  return new Writable({
    write: (piece: Buffer, _encoding, done) =>
      tryTo(() => takeAll(decoder.decode(piece, { stream: true })), done),
    final: (done) => tryTo(() => take(rest), done),
  });
}

/** The archive's tables must be the ones of its shape, column by column. */
function demandSameTables(tables: readonly ArchiveTable[], manifest: Manifest): void {
  const wanted = new Map(manifest.tables.map((table) => [table.name, table.columns.join()]));
  for (const { name, columns } of tables) {
    if (wanted.get(name) !== columns.map((column) => column.name).join())
      throw unusable(`The table ${name} is not as the books of that time had it.`);
  }
  if (wanted.size !== tables.length)
    throw unusable('The archive holds a table the books of that time did not have.');
}

function hashOfRows(db: Database.Database, table: ArchiveTable): string {
  const hash = createHash('sha256');
  for (const piece of inPieces(jsonText(table, rowsOf(db, table)))) hash.update(piece);
  return hash.digest('hex');
}

/** Holds the books that were made against what the archive says. @throws StorageTrouble that names what differs */
function prove(db: Database.Database, tables: readonly ArchiveTable[], archive: OpenArchive): void {
  const { manifest } = archive;
  for (const table of tables) {
    if (hashOfRows(db, table) !== archive.file(`tables/${table.name}.json`).sha256)
      throw unusable(`The rows of ${table.name} did not come out as they went in.`);
  }
  const totals = controlTotals(db, tables);
  const differs = Object.keys(totals).find((name) => totals[name] !== manifest.totals[name]);
  if (differs !== undefined) throw unusable(`The control total ${differs} differs.`);
  const chain = checkChain(db);
  if (!chain.sound) throw unusable(`Entry ${chain.seq} of the journal does not fit: ${chain.problem}.`);
  if (chain.head.seq !== manifest.journal.seq || chain.head.hash !== manifest.journal.hash)
    throw unusable('The journal ends elsewhere than the list of contents says.');
}

/**
 * Makes a file of books out of the archive and proves every row of it against the archive's hashes.
 * @param file must not exist; removed again when anything fails
 */
export async function rebuildBooks(
  archive: OpenArchive,
  file: string,
  migrations: readonly Migration[],
  watch: Watch,
): Promise<void> {
  const db = emptyBooks(file, archive.manifest, migrations);
  try {
    const tables = tablesOf(db);
    demandSameTables(tables, archive.manifest);
    const triggers = withoutTriggers(db);
    for (const table of tables) {
      const from = archive.file(`tables/${table.name}.json`);
      db.exec(`BEGIN; DELETE FROM ${quoted(table.name)}`);
      await archive.send(from, rowsInto(db, table, from.path), watch.signal, watch.onBytes);
      db.exec('COMMIT');
    }
    for (const { sql } of triggers) db.exec(sql);
    prove(db, tables, archive);
  } catch (error) {
    db.close();
    fs.rmSync(file, { force: true });
    throw refusedRow(error);
  }
  db.close();
}

/** A row the books refuse (a check, a missing parent) is the archive's fault, not the disk's. */
function refusedRow(error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  return code.startsWith('SQLITE_CONSTRAINT') || code === 'SQLITE_MISMATCH'
    ? unusable(`It holds a row the books do not take (${error instanceof Error ? error.message : ''}).`)
    : error;
}

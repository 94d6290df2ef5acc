/** The tables of the books as an archive carries them: which there are, their columns, their rows as text. */
import type Database from 'better-sqlite3';
import { guardedText } from '../../domain/csv-guard.ts';

/** A column as the books declare it. */
export interface ArchiveColumn {
  readonly name: string;
  /** `INTEGER`, `TEXT`, `REAL`, `BLOB`. */
  readonly type: string;
  /** May be empty, which is something else than an empty text or zero. */
  readonly optional: boolean;
  /** The table it points to, if any. */
  readonly pointsTo: string | null;
}

/** A table as the books declare it. */
export interface ArchiveTable {
  readonly name: string;
  readonly columns: readonly ArchiveColumn[];
  /** Its declaration in SQL, with the remarks in it. */
  readonly sql: string;
  /** What its rows are put in order by: as they were written, or by the key. */
  readonly order: string;
}

export type Value = string | number | null | Buffer;
export type Row = Readonly<Record<string, Value>>;

interface ColumnInfo {
  readonly name: string;
  readonly type: string;
  readonly notnull: number;
  readonly pk: number;
}

/** A name as SQL takes it; names come from the books' own schema. */
export const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

function tableOf(db: Database.Database, name: string, sql: string): ArchiveTable {
  const infos = db.pragma(`table_info(${quoted(name)})`) as ColumnInfo[];
  const links = db.pragma(`foreign_key_list(${quoted(name)})`) as { from: string; table: string }[];
  const columns = infos.map((column) => ({
    name: column.name,
    type: column.type,
    optional: column.notnull === 0 && column.pk === 0,
    pointsTo: links.find((link) => link.from === column.name)?.table ?? null,
  }));
  const keys = infos.filter((column) => column.pk > 0).sort((a, b) => a.pk - b.pk);
  const byKey = keys.map((column) => quoted(column.name)).join(', ');
  return { name, columns, sql, order: /WITHOUT\s+ROWID/i.test(sql) ? byKey : 'rowid' };
}

/** Every table of the open books, by name. */
export function tablesOf(db: Database.Database): readonly ArchiveTable[] {
  const found = db
    .prepare(
      `SELECT name, sql FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite~_%' ESCAPE '~' ORDER BY name`,
    )
    .all() as { name: string; sql: string }[];
  return found.map(({ name, sql }) => tableOf(db, name, sql));
}

/** How many rows a table has. */
export const rowCount = (db: Database.Database, table: ArchiveTable): number =>
  (db.prepare(`SELECT count(*) AS n FROM ${quoted(table.name)}`).get() as { n: number }).n;

/** Every row in the table's own order, one at a time. */
export const rowsOf = (db: Database.Database, table: ArchiveTable): IterableIterator<Row> =>
  db
    .prepare<[], Row>(
      `SELECT ${table.columns.map((column) => quoted(column.name)).join(', ')} FROM ${quoted(table.name)} ORDER BY ${table.order}`,
    )
    .iterate();

const jsonValue = (value: Value): string | number | null | { readonly base64: string } =>
  Buffer.isBuffer(value) ? { base64: value.toString('base64') } : value;

/** One row as JSON, columns in the table's order. */
const jsonRow = (table: ArchiveTable, row: Row): string =>
  JSON.stringify(Object.fromEntries(table.columns.map(({ name }) => [name, jsonValue(row[name] ?? null)])));

function csvCell(value: Value): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const text = Buffer.isBuffer(value) ? value.toString('base64') : guardedText(value);
  // An empty text stands in quotes, so that it can be told from nothing at all.
  return text === '' || /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

const csvLine = (cells: readonly string[]): string => `${cells.join(',')}\r\n`;

/** A table as a JSON array, one row on each line (RFC 8259). */
export function* jsonText(table: ArchiveTable, rows: Iterable<Row>): Generator<string> {
  yield '[\n';
  let first = true;
  for (const row of rows) {
    yield first ? jsonRow(table, row) : `,\n${jsonRow(table, row)}`;
    first = false;
  }
  yield first ? ']\n' : '\n]\n';
}

/** A table as CSV with its headings (RFC 4180), UTF-8 with a byte order mark for spreadsheets. */
export function* csvText(table: ArchiveTable, rows: Iterable<Row>): Generator<string> {
  yield `\uFEFF${csvLine(table.columns.map((column) => column.name))}`;
  for (const row of rows) yield csvLine(table.columns.map(({ name }) => csvCell(row[name] ?? null)));
}

const PIECE = 1 << 16;

/** Joins small texts into pieces worth sending on. */
export function* inPieces(texts: Iterable<string>): Generator<Buffer> {
  let waiting = '';
  for (const text of texts) {
    waiting += text;
    if (waiting.length < PIECE) continue;
    yield Buffer.from(waiting);
    waiting = '';
  }
  if (waiting !== '') yield Buffer.from(waiting);
}

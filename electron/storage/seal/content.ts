/** The rows of a year as a seal sees them: a mark of each, one hash over all, and the control totals. */
import { canonicalJson } from '../canonical-json.ts';
import { sha256 } from '../durable.ts';
import type { Ask } from './ask.ts';
import { type SealedTable, sealedTables, sealTotals } from './sealed-tables.ts';

/** First and last day, both in it. */
export interface Span {
  readonly from: string;
  readonly to: string;
}

/** A row under a seal. */
export interface SealedRow {
  readonly table: string;
  readonly key: string;
  /** The first 16 letters of its SHA-256. */
  readonly mark: string;
}

/** What a seal is made over. */
export interface YearContent {
  readonly rows: readonly SealedRow[];
  /** SHA-256 over the whole SHA-256 of every row, in order. */
  readonly rowsHash: string;
}

const MARK_LETTERS = 16;

function textOf({ table, key, columns, day, join = '', where = '1' }: SealedTable): string {
  const wanted = columns.map((column) => `t.${column}`).join(', ');
  const order = key.map((column) => `t.${column}`).join(', ');
  return `SELECT ${wanted} FROM ${table} AS t ${join} WHERE ${day} BETWEEN ? AND ? AND ${where} ORDER BY ${order}`;
}

/** Reads every row of a year that a seal covers. */
export function contentOf(ask: Ask, { from, to }: Span): YearContent {
  const rows: SealedRow[] = [];
  const hashes: string[] = [];
  for (const sealed of sealedTables) {
    for (const row of ask<Record<string, string | number | null>>(textOf(sealed), from, to)) {
      const hash = sha256(canonicalJson([sealed.table, sealed.columns.map((column) => row[column] ?? null)]));
      const key = sealed.key.map((column) => String(row[column] ?? '')).join(' ');
      rows.push({ table: sealed.table, key, mark: hash.slice(0, MARK_LETTERS) });
      hashes.push(hash);
    }
  }
  return { rows, rowsHash: sha256(hashes.join('\n')) };
}

/** Of hours only what counts. */
const counted: Readonly<Record<string, string>> = { sessions: 't.current = 1 AND t.cancelled = 0' };

/** The control totals of a year, by key. */
export function totalsOf(ask: Ask, { from, to }: Span): Readonly<Record<string, number>> {
  const byTable = new Map(sealedTables.map((sealed) => [sealed.table, sealed]));
  return Object.fromEntries(
    sealTotals.map(({ key, table, sum }) => {
      const sealed = byTable.get(table);
      if (sealed === undefined) throw new Error(`${table} is under no seal`);
      const { day, join = '', where = '1' } = sealed;
      const sql = `SELECT coalesce(sum(${sum}), 0) AS n FROM ${table} AS t ${join} WHERE ${day} BETWEEN ? AND ? AND ${where} AND ${counted[table] ?? '1'}`;
      return [key, ask<{ n: number }>(sql, from, to)[0]?.n ?? 0];
    }),
  );
}

/** All that goes into the hash that is printed. */
export interface SealFacts extends Span {
  readonly sealedAt: string;
  readonly seq: number;
  readonly journalHash: string;
  /** Canonical JSON. */
  readonly totals: string;
  readonly rowCount: number;
  readonly rowsHash: string;
  readonly accepted: string;
  readonly note: string;
}

/** The seal itself: SHA-256 over everything it says. */
export const sealHash = (facts: SealFacts): string =>
  sha256(
    canonicalJson([
      'knifewright-seal-1',
      facts.from,
      facts.to,
      facts.sealedAt,
      facts.seq,
      facts.journalHash,
      facts.totals,
      facts.rowCount,
      facts.rowsHash,
      facts.accepted,
      facts.note,
    ]),
  );

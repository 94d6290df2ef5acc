/** The rows of a year as a seal sees them: a mark of each, one hash over all, and the control totals. */
import type { Steps } from '../../domain/steps.ts';
import { canonicalJson } from '../canonical-json.ts';
import { createHash } from 'node:crypto';
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

/** As many rows as are read and marked at a stretch, so that no step is long. */
const ROWS_AT_ONCE = 500;

/**
 * Rows of a table in the order of their key; from the second stretch on those after the last one read. Written so that
 * they are walked by their key: by the index of their days each stretch would sort all of them again.
 */
function textOf({ table, key, columns, day, join = '', where = '1' }: SealedTable, goesOn: boolean): string {
  const list = (names: readonly string[]): string => names.map((column) => `t.${column}`).join(', ');
  const after = goesOn ? `(${list(key)}) > (${key.map(() => '?').join(', ')})` : '1';
  return `SELECT ${list(columns)} FROM ${table} AS t ${join.replace('JOIN', 'CROSS JOIN')} WHERE +${day} BETWEEN ? AND ?
    AND ${where} AND ${after} ORDER BY ${list(key)} LIMIT ${String(ROWS_AT_ONCE)}`;
}

type Row = Record<string, string | number | null>;

/** Every row of one table, a stretch at a time. */
function* rowsOf(ask: Ask, sealed: SealedTable, { from, to }: Span): Generator<readonly Row[]> {
  let last: Row | undefined;
  for (;;) {
    const row = last;
    const after = row === undefined ? [] : sealed.key.map((column) => row[column] ?? '');
    const rows: readonly Row[] = ask<Row>(textOf(sealed, last !== undefined), from, to, ...after);
    yield rows;
    last = rows.at(-1);
    if (rows.length < ROWS_AT_ONCE || last === undefined) return;
  }
}

/**
 * Reads every row of a year that a seal covers.
 * @param tables those an older seal was made over; all there are for a new one
 */
export function* contentSteps(
  ask: Ask,
  span: Span,
  tables: readonly SealedTable[] = sealedTables,
): Steps<YearContent> {
  const rows: SealedRow[] = [];
  const all = createHash('sha256');
  for (const sealed of tables) {
    for (const stretch of rowsOf(ask, sealed, span)) {
      for (const row of stretch) {
        const values = sealed.columns.map((column) => row[column] ?? null);
        const hash = sha256(canonicalJson([sealed.table, values]));
        const key = sealed.key.map((column) => String(row[column] ?? '')).join(' ');
        rows.push({ table: sealed.table, key, mark: hash.slice(0, MARK_LETTERS) });
        all.update(rows.length === 1 ? hash : `\n${hash}`);
      }
      yield;
    }
  }
  return { rows, rowsHash: all.digest('hex') };
}

/** Of hours only what counts. */
const counted: Readonly<Record<string, string>> = { sessions: 't.current = 1 AND t.cancelled = 0' };

/** The control totals of a year, by key. */
export function* totalSteps(ask: Ask, { from, to }: Span): Steps<Readonly<Record<string, number>>> {
  const byTable = new Map(sealedTables.map((sealed) => [sealed.table, sealed]));
  const totals: Record<string, number> = {};
  for (const { key, table, sum } of sealTotals) {
    const sealed = byTable.get(table);
    if (sealed === undefined) throw new Error(`${table} is under no seal`);
    const { day, join = '', where = '1' } = sealed;
    const sql = `SELECT coalesce(sum(${sum}), 0) AS n FROM ${table} AS t ${join} WHERE ${day} BETWEEN ? AND ? AND ${where} AND ${counted[table] ?? '1'}`;
    totals[key] = ask<{ n: number }>(sql, from, to)[0]?.n ?? 0;
    yield;
  }
  return totals;
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

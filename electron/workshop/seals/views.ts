/** Seals as the contract answers them. */
import type { SealFound, SealTotal, YearSeal } from '../../api/seals.ts';
import type { ReadDb } from '../../storage/db.ts';
import { askingBooks } from '../../storage/seal/open-books.ts';
import type { Span } from '../../storage/seal/content.ts';
import { type ProofFound, type SealRow, sealRows } from '../../storage/seal/prove.ts';
import { sealTotals } from '../../storage/seal/sealed-tables.ts';

/** As many differing rows as one can take in; the rest is counted. */
const MOST_TOLD = 50;

/** Control totals with what they are called. */
export const toTotals = (values: Readonly<Record<string, number>>): readonly SealTotal[] =>
  sealTotals.flatMap(({ key, label, unit }) => {
    const value = values[key];
    return value === undefined ? [] : [{ key, label, unit, value }];
  });

/** A seal as the contract answers it. */
export const toSeal = (row: SealRow): YearSeal => ({
  id: row.id,
  number: row.number,
  from: row.from_on,
  to: row.until_on,
  sealedAt: row.sealed_at,
  seq: row.seq,
  journalHash: row.journal_hash,
  rows: row.row_count,
  seal: row.seal,
  note: row.note,
  accepted: JSON.parse(row.accepted) as readonly string[],
  totals: toTotals(JSON.parse(row.totals) as Record<string, number>),
  reopened: row.reopened_at === null ? null : { at: row.reopened_at, reason: row.reopened_reason ?? '' },
});

/** What looking at a seal again found, as the contract answers it. */
export const toFound = ({ row, holds, history, differences }: ProofFound): SealFound => ({
  seal: toSeal(row),
  holds,
  history,
  differences: differences.slice(0, MOST_TOLD),
  differing: differences.length,
});

/**
 * The newest seal of a year, for its report: the standing one, or the last one that was opened again.
 * @returns null for a year that was never closed
 */
export function sealOf(db: ReadDb, { from, to }: Span): YearSeal | null {
  const row = sealRows(askingBooks(db)).find((each) => each.from_on === from && each.until_on === to);
  return row === undefined ? null : toSeal(row);
}

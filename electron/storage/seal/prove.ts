/** Looks again at a closed year: whether its rows, its history and the seal itself are what they were. */
import type { Steps } from '../../domain/steps.ts';
import { sha256 } from '../durable.ts';
import type { Ask } from './ask.ts';
import { contentSteps, sealHash, type SealedRow } from './content.ts';
import { tablesUnder } from './sealed-tables.ts';

/** A seal as the books hold it. */
export interface SealRow {
  readonly id: string;
  readonly number: number;
  readonly from_on: string;
  readonly until_on: string;
  readonly sealed_at: string;
  readonly seq: number;
  readonly journal_hash: string;
  readonly totals: string;
  readonly row_count: number;
  readonly rows_hash: string;
  readonly accepted: string;
  readonly note: string;
  readonly seal: string;
  readonly reopened_at: string | null;
  readonly reopened_reason: string | null;
}

/** Every seal, latest first. */
export const sealRows = (ask: Ask): readonly SealRow[] =>
  ask<SealRow>(
    `SELECT s.*, r.reopened_at, r.reason AS reopened_reason FROM year_seals AS s
     LEFT JOIN year_reopenings AS r ON r.seal_id = s.id ORDER BY s.number DESC`,
  );

export interface RowDifference {
  readonly table: string;
  readonly key: string;
  readonly what: 'changed' | 'missing' | 'added';
}

/** What looking again found. */
export interface ProofFound {
  readonly row: SealRow;
  readonly holds: boolean;
  /** The history up to the seal: sound, or the first entry that does not fit. */
  readonly history: string;
  readonly differences: readonly RowDifference[];
}

interface Entry {
  readonly seq: number;
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly body: string;
  readonly prev_hash: string;
  readonly hash: string;
}

/** So that no step is long. */
const ENTRIES_AT_ONCE = 250;

/** Follows the history from its first entry to the one a seal names. @returns what does not fit, or nothing */
export function* historySteps(ask: Ask, seq: number, hash: string): Steps<string | undefined> {
  let before = '0'.repeat(64);
  let expected = 1;
  for (let after = 0; after < seq; after += ENTRIES_AT_ONCE) {
    const entries = ask<Entry>(
      'SELECT seq, at, who, command, body, prev_hash, hash FROM journal WHERE seq > ? AND seq <= ? ORDER BY seq',
      after,
      Math.min(after + ENTRIES_AT_ONCE, seq),
    );
    for (const entry of entries) {
      if (entry.seq !== expected) return `Entry ${expected} of the history is missing.`;
      const text = [entry.seq, entry.at, entry.who, entry.command, entry.body, entry.prev_hash].join('|');
      if (entry.prev_hash !== before || entry.hash !== sha256(text))
        return `Entry ${entry.seq} of the history (${entry.at.slice(0, 10)}) is not as it was written.`;
      before = entry.hash;
      expected += 1;
    }
    yield;
  }
  if (expected !== seq + 1) return `Entry ${expected} of the history is missing.`;
  return before === hash ? undefined : `Entry ${seq} of the history is not the one that was sealed.`;
}

const nameOf = ({ table, key }: Pick<SealedRow, 'table' | 'key'>): string => `${table}\n${key}`;

function differencesOf(ask: Ask, id: string, now: readonly SealedRow[]): readonly RowDifference[] {
  const sealed = ask<SealedRow>(
    'SELECT table_name AS "table", row_key AS key, mark FROM year_seal_rows WHERE seal_id = ? ORDER BY table_name, row_key',
    id,
  );
  const marks = new Map(now.map((row) => [nameOf(row), row.mark]));
  const known = new Set(sealed.map(nameOf));
  const gone = sealed
    .filter((row) => marks.get(nameOf(row)) !== row.mark)
    .map(({ table, key }) => ({
      table,
      key,
      what: marks.has(nameOf({ table, key })) ? ('changed' as const) : ('missing' as const),
    }));
  const more = now
    .filter((row) => !known.has(nameOf(row)))
    .map(({ table, key }) => ({ table, key, what: 'added' as const }));
  return [...gone, ...more];
}

/** What the seal was made over, by its own words. */
const ownHash = (row: SealRow): string =>
  sealHash({
    from: row.from_on,
    to: row.until_on,
    sealedAt: row.sealed_at,
    seq: row.seq,
    journalHash: row.journal_hash,
    totals: row.totals,
    rowCount: row.row_count,
    rowsHash: row.rows_hash,
    accepted: row.accepted,
    note: row.note,
  });

/** Looks at one seal again, in steps. */
export function* proofSteps(ask: Ask, row: SealRow): Steps<ProofFound> {
  const totals = JSON.parse(row.totals) as Record<string, number>;
  const now = yield* contentSteps(ask, { from: row.from_on, to: row.until_on }, tablesUnder(totals));
  const problem =
    ownHash(row) === row.seal
      ? yield* historySteps(ask, row.seq, row.journal_hash)
      : 'The seal itself is not as it was written.';
  const same = now.rowsHash === row.rows_hash && now.rows.length === row.row_count;
  return {
    row,
    holds: same && problem === undefined,
    history: problem ?? `The history is sound up to entry ${row.seq}.`,
    differences: same ? [] : differencesOf(ask, row.id, now.rows),
  };
}

/** The append-only journal: what was done, in order, each entry sealed with the hash of the one before. */
import type Database from 'better-sqlite3';
import { canonicalJson } from './canonical-json.ts';
import { sha256 } from './durable.ts';

/** Where the journal stands: number and hash of its last entry. */
export interface JournalHead {
  readonly seq: number;
  readonly hash: string;
}

/** What a command adds to the journal. */
export interface NewEntry {
  /** UTC ISO instant. */
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly input: unknown;
}

interface Row {
  readonly seq: number;
  readonly at: string;
  readonly who: string;
  readonly command: string;
  readonly body: string;
  readonly prev_hash: string;
  readonly hash: string;
}

/** A check of the chain: sound, or the first entry that does not fit. */
export type ChainCheck =
  | { readonly sound: true; readonly head: JournalHead; readonly checked: number }
  | { readonly sound: false; readonly seq: number; readonly problem: string };

/** What the first entry follows. */
const emptyHead: JournalHead = { seq: 0, hash: '0'.repeat(64) };

/** Longer texts (pictures, whole import files) are journalled by hash and length: the books keep them elsewhere. */
const LONGEST_TEXT = 16_384;

/** Entries looked at when the books are opened. */
const HEAD_ENTRIES = 50;

/** Seal of an entry: SHA-256 over `seq|at|who|command|body|prev_hash`. */
const seal = (row: Omit<Row, 'hash'>): string =>
  sha256([row.seq, row.at, row.who, row.command, row.body, row.prev_hash].join('|'));

function withoutLongTexts(value: unknown): unknown {
  if (typeof value === 'string' && value.length > LONGEST_TEXT) {
    return { longText: { sha256: sha256(value), length: value.length } };
  }
  if (Array.isArray(value)) return value.map(withoutLongTexts);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, withoutLongTexts(each)]));
}

/** True when the file has a journal; books from before the journal's migration have none. */
const hasJournal = (db: Database.Database): boolean =>
  db.prepare(`SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'journal'`).get() !== undefined;

/** The journal's last entry, or the empty head. */
export function journalHead(db: Database.Database): JournalHead {
  if (!hasJournal(db)) return emptyHead;
  const row = db.prepare<[], JournalHead>('SELECT seq, hash FROM journal ORDER BY seq DESC LIMIT 1').get();
  return row ?? emptyHead;
}

/** Whether the journal once ended with this entry: books at that head are an earlier state of these. */
export function wasHead(db: Database.Database, head: JournalHead): boolean {
  if (head.seq === 0) return head.hash === emptyHead.hash;
  if (!hasJournal(db)) return false;
  return (
    db.prepare('SELECT 1 FROM journal WHERE seq = ? AND hash = ?').get(head.seq, head.hash) !== undefined
  );
}

/** Number of the last entry that changed the books; making a safety copy is noted but changes nothing. */
export function lastChange(db: Database.Database, harmless: readonly string[]): number {
  if (!hasJournal(db)) return 0;
  const marks = harmless.map(() => '?').join(', ');
  const sql = `SELECT seq FROM journal WHERE command NOT IN (${marks}) ORDER BY seq DESC LIMIT 1`;
  return db.prepare<string[], { seq: number }>(sql).get(...harmless)?.seq ?? 0;
}

/** Appends one entry after `head`; call it inside the command's own transaction. @returns the new head */
export function appendEntry(db: Database.Database, head: JournalHead, entry: NewEntry): JournalHead {
  const unsealed = {
    seq: head.seq + 1,
    at: entry.at,
    who: entry.who,
    command: entry.command,
    body: canonicalJson(withoutLongTexts(entry.input) ?? null),
    prev_hash: head.hash,
  };
  const row: Row = { ...unsealed, hash: seal(unsealed) };
  db.prepare(
    `INSERT INTO journal (seq, at, who, command, body, prev_hash, hash)
     VALUES (@seq, @at, @who, @command, @body, @prev_hash, @hash)`,
  ).run(row);
  return { seq: row.seq, hash: row.hash };
}

function checkRows(rows: Iterable<Row>, before: JournalHead): ChainCheck {
  let head = before;
  let checked = 0;
  for (const row of rows) {
    if (row.seq !== head.seq + 1) return { sound: false, seq: head.seq + 1, problem: 'the entry is missing' };
    if (row.prev_hash !== head.hash) {
      return { sound: false, seq: row.seq, problem: 'the entry does not follow the one before it' };
    }
    if (row.hash !== seal(row)) return { sound: false, seq: row.seq, problem: 'the entry was altered' };
    head = { seq: row.seq, hash: row.hash };
    checked += 1;
  }
  return { sound: true, head, checked };
}

const columns = 'seq, at, who, command, body, prev_hash, hash';

/** Checks every entry from the first to the last. */
export function checkChain(db: Database.Database): ChainCheck {
  if (!hasJournal(db)) return { sound: true, head: emptyHead, checked: 0 };
  return checkRows(db.prepare<[], Row>(`SELECT ${columns} FROM journal ORDER BY seq`).iterate(), emptyHead);
}

/** Checks the last entries only; quick enough for every open. */
export function checkHead(db: Database.Database): ChainCheck {
  const last = journalHead(db).seq;
  const first = Math.max(0, last - HEAD_ENTRIES);
  if (first === 0) return checkChain(db);
  const start = db.prepare<[number], JournalHead>('SELECT seq, hash FROM journal WHERE seq = ?').get(first);
  if (!start) return { sound: false, seq: first, problem: 'the entry is missing' };
  return checkRows(
    db.prepare<[number], Row>(`SELECT ${columns} FROM journal WHERE seq > ? ORDER BY seq`).iterate(first),
    start,
  );
}

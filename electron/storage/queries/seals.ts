/** Writing the seal of a year, and what is looked at before. */
import type { ReadDb, WriteDb } from '../db.ts';
import type { Ask } from '../seal/ask.ts';
import { askingBooks } from '../seal/open-books.ts';
import type { SealedRow, Span } from '../seal/content.ts';
import type { YearSealsTable } from '../schema-seal.ts';
import { fixedStatement } from './insert.ts';

/** Many rows in one statement: a large year has some hundred thousand, written while the books are held. */
const insertSealRows = fixedStatement(
  `INSERT INTO year_seal_rows (seal_id, table_name, row_key, mark)
   SELECT ?, j.value ->> 0, j.value ->> 1, j.value ->> 2 FROM json_each(?) AS j`,
);
const ROWS_AT_ONCE = 2000;

/** Rows as they are written, some at a time and in the order of their key, so that each finds its place at once. */
export const markPages = (rows: readonly SealedRow[]): readonly string[] => {
  const inOrder = rows.toSorted((a, b) =>
    a.table === b.table ? (a.key < b.key ? -1 : 1) : a.table < b.table ? -1 : 1,
  );
  const pages: string[] = [];
  for (let at = 0; at < inOrder.length; at += ROWS_AT_ONCE)
    pages.push(
      JSON.stringify(inOrder.slice(at, at + ROWS_AT_ONCE).map(({ table, key, mark }) => [table, key, mark])),
    );
  return pages;
};

/** Writes a seal and a mark of every row under it. @param pages see `markPages` */
export function putSeal(db: WriteDb, seal: YearSealsTable, pages: readonly string[]): void {
  db.run(db.q.insertInto('year_seals').values(seal));
  for (const page of pages) db.run(insertSealRows(seal.id, page));
}

/** Notes that a closed year was opened again. */
export const putReopening = (db: WriteDb, sealId: string, at: string, reason: string): number =>
  db.run(db.q.insertInto('year_reopenings').values({ seal_id: sealId, reopened_at: at, reason }));

/** Number and hash of the last entry of the history, and when it was written. */
export const lastEntry = (db: ReadDb) =>
  db.one(db.q.selectFrom('journal').select(['seq', 'hash', 'at']).orderBy('seq', 'desc').limit(1));

/** How many seals there are, to number the next. */
export const sealCount = (db: ReadDb): number =>
  db.one(db.q.selectFrom('year_seals').select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;

type Counting = (span: Span) => readonly [sql: string, ...values: readonly string[]];

/** Each count is of things that are not in order; zero is what one hopes for. */
const counts = {
  belowZero: ({ to }) => [
    `SELECT count(*) AS n FROM (SELECT 1 FROM movements WHERE on_date <= ? GROUP BY lot_id
      HAVING sum(qty) < 0 OR sum(value_micro) < 0)`,
    to,
  ],
  openStocktake: ({ to }) => [
    `SELECT count(*) AS n FROM stocktakes WHERE state = 'open' AND on_date <= ?`,
    to,
  ],
  stocktake: ({ to }) => [
    `SELECT count(*) = 0 AS n FROM stocktakes WHERE state = 'finished' AND places = '[]' AND on_date = ?`,
    to,
  ],
  noKnife: ({ from, to }) => [
    `SELECT count(*) AS n FROM sessions AS s WHERE s.current = 1 AND s.cancelled = 0 AND s.on_date BETWEEN ? AND ?
      AND s.stage_code IS NOT NULL AND s.making_id IS NULL
      AND NOT EXISTS (SELECT 1 FROM session_shares AS h WHERE h.session_id = s.id)`,
    from,
    to,
  ],
  noInvoice: ({ from, to }) => [
    `SELECT count(*) AS n FROM sales AS s WHERE s.taken_back_on IS NULL AND s.on_date BETWEEN ? AND ?
      AND NOT EXISTS (SELECT 1 FROM invoices AS i WHERE i.sale_id = s.id)`,
    from,
    to,
  ],
  noCost: ({ from, to }) => [
    `SELECT count(*) AS n FROM sales AS s JOIN builds AS b ON b.id = s.build_id
      WHERE s.taken_back_on IS NULL AND s.on_date BETWEEN ? AND ? AND b.cost_micro = 0`,
    from,
    to,
  ],
  noPostage: ({ from, to }) => [
    `SELECT count(*) AS n FROM sales WHERE taken_back_on IS NULL AND on_date BETWEEN ? AND ?
      AND shipping_minor > 0 AND postage_paid_minor = 0`,
    from,
    to,
  ],
  unpaid: ({ to }) => [
    `SELECT count(*) AS n FROM invoices AS i WHERE i.kind <> 'credit' AND i.issued_on <= ?
      AND i.total_minor - i.prepaid_minor
        + coalesce((SELECT sum(c.total_minor) FROM invoices AS c WHERE c.credits_id = i.id), 0)
        - coalesce((SELECT sum(p.amount_minor) FROM payments AS p WHERE p.invoice_id = i.id), 0) > 0`,
    to,
  ],
  drafts: ({ to }) => ['SELECT count(*) AS n FROM invoice_drafts WHERE substr(changed_at, 1, 10) <= ?', to],
  noReceipt: ({ from, to }) => [
    `SELECT count(*) AS n FROM expenses AS e WHERE e.cost_on BETWEEN ? AND ? AND e.receipt = 0 AND e.reverses_id IS NULL
      AND NOT EXISTS (SELECT 1 FROM expenses AS r WHERE r.reverses_id = e.id)
      AND NOT EXISTS (SELECT 1 FROM attachments AS a WHERE a.owner_kind = 'expense' AND a.owner_id = e.id AND a.removed_at IS NULL)`,
    from,
    to,
  ],
  owed: ({ from, to }) => [
    `SELECT count(*) AS n FROM expenses AS e WHERE e.cost_on BETWEEN ? AND ? AND e.paid_on IS NULL AND e.reverses_id IS NULL
      AND NOT EXISTS (SELECT 1 FROM expenses AS r WHERE r.reverses_id = e.id)`,
    from,
    to,
  ],
} as const satisfies Record<string, Counting>;

export type CountKey = keyof typeof counts;

/** How many things of one kind are not in order in a year. */
export function countOf(db: ReadDb, key: CountKey, span: Span): number {
  const ask: Ask = askingBooks(db);
  const [sql, ...values] = counts[key](span);
  return ask<{ n: number }>(sql, ...values)[0]?.n ?? 0;
}

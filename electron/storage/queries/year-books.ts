/** What a year's report asks of the books beside sums: where they stand, and what is missing in them. */
import { type Compilable, CompiledQuery, sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import type { Days } from './year-knives.ts';

const LAST_SEQ: Compilable<{ seq: number | null }> = {
  compile: () => CompiledQuery.raw('SELECT max(seq) AS seq FROM journal', []),
};

/** Place of the last entry of the journal. */
export const journalSeq = (db: ReadDb): number => db.one(LAST_SEQ)?.seq ?? 0;

/** Postage paid on knives sent back after service, by the day sent. */
export const servicePostage = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('services as s')
      .leftJoin('buyers as p', 'p.id', 's.buyer_id')
      .where('s.postage_paid_minor', '>', 0)
      .where(sql<boolean>`coalesce(s.sent_on, s.done_on, s.received_on) BETWEEN ${from} AND ${to}`)
      .select(['s.id', 's.kind', 's.postage_paid_minor', 'p.name as buyer_name'])
      .select(sql<string>`coalesce(s.sent_on, s.done_on, s.received_on)`.as('on_date')),
  );

/** How many of what is missing or doubtful there are in a year. */
export interface GapCounts {
  readonly noReceipt: number;
  readonly owed: number;
  readonly noInvoice: number;
  readonly unpaid: number;
  readonly noMinutes: number;
  readonly noCost: number;
  readonly noPaper: number;
  readonly openService: number;
  readonly openingCount: number;
  readonly closingCount: number;
}

const count = (query: ReturnType<typeof sql>) => sql<number>`(SELECT count(*) FROM ${query})`;

/** What is missing of the knives sold in a year and not taken back in it. */
const soldGaps = (db: ReadDb, { from, to }: Days): Pick<GapCounts, 'noInvoice' | 'noMinutes' | 'noCost'> => {
  const isInvoiced = sql`EXISTS (SELECT 1 FROM invoices i WHERE i.sale_id = s.id AND i.kind IN ('sale', 'second', 'balance'))`;
  const row = db.one(
    db.q
      .selectFrom('sales as s')
      .innerJoin('builds as b', 'b.id', 's.build_id')
      .where('s.on_date', '>=', from)
      .where('s.on_date', '<=', to)
      .where((e) => e.or([e('s.taken_back_on', 'is', null), e('s.taken_back_on', '>', to)]))
      .select([
        sql<number>`count(*) FILTER (WHERE NOT ${isInvoiced})`.as('noInvoice'),
        sql<number>`count(*) FILTER (WHERE b.minutes = 0)`.as('noMinutes'),
        sql<number>`count(*) FILTER (WHERE b.cost_micro = 0)`.as('noCost'),
      ]),
  );
  return row ?? { noInvoice: 0, noMinutes: 0, noCost: 0 };
};

/** @param before the day before the year */
export const gapCounts = (db: ReadDb, { from, to }: Days, before: string): GapCounts => {
  const spent = sql`expenses e WHERE e.cost_on BETWEEN ${from} AND ${to} AND e.reverses_id IS NULL
    AND NOT EXISTS (SELECT 1 FROM expenses r WHERE r.reverses_id = e.id)`;
  const pinned = (kind: string, id: string) =>
    sql`NOT EXISTS (SELECT 1 FROM attachments a WHERE a.owner_kind = ${sql.lit(kind)} AND a.owner_id = ${sql.ref(id)} AND a.removed_at IS NULL)`;
  const none = {
    noReceipt: 0,
    owed: 0,
    unpaid: 0,
    noPaper: 0,
    openService: 0,
    openingCount: 0,
    closingCount: 0,
  };
  const row = db.one(
    db.q.selectNoFrom([
      count(sql`${spent} AND e.receipt = 0 AND ${pinned('expense', 'e.id')}`).as('noReceipt'),
      count(sql`${spent} AND e.paid_on IS NULL`).as('owed'),
      count(sql`invoices i WHERE i.issued_on BETWEEN ${from} AND ${to} AND i.kind <> 'credit' AND i.total_minor - i.prepaid_minor
        > coalesce((SELECT sum(y.amount_minor) FROM payments y WHERE y.invoice_id = i.id AND y.on_date <= ${to}), 0)
        + coalesce((SELECT -sum(k.total_minor) FROM invoices k WHERE k.credits_id = i.id AND k.issued_on <= ${to}), 0)`).as(
        'unpaid',
      ),
      count(
        sql`lots l WHERE l.received_on BETWEEN ${from} AND ${to} AND l.listing <> '' AND l.paper_number = '' AND ${pinned('lot', 'l.id')}`,
      ).as('noPaper'),
      count(sql`services v WHERE v.received_on BETWEEN ${from} AND ${to} AND v.cancelled_on IS NULL AND v.price_minor > 0
        AND v.done_on IS NOT NULL AND NOT EXISTS (SELECT 1 FROM invoices i WHERE i.service_id = v.id)`).as(
        'openService',
      ),
      count(sql`stocktakes t WHERE t.state = 'finished' AND t.places = '[]' AND t.on_date = ${before}`).as(
        'openingCount',
      ),
      count(sql`stocktakes t WHERE t.state = 'finished' AND t.places = '[]' AND t.on_date = ${to}`).as(
        'closingCount',
      ),
    ]),
  );
  return { ...(row ?? none), ...soldGaps(db, { from, to }) };
};

/** True when anything was bought, worked or sold before a day: a year that begins then has an opening stock. */
export const hasEarlier = (db: ReadDb, day: string): boolean =>
  db.one(db.q.selectFrom('movements').select('seq').where('on_date', '<', day).limit(1)) !== undefined;

/** Knives of a year: what was sold and came back, what was under way, and what each had cost by a day. */
import { CompiledQuery, sql } from 'kysely';
import { LOST_TO_BUYER } from '../../domain/year-sales.ts';
import type { ReadDb } from '../db.ts';
import { amongIds } from './like.ts';

/** First and last day, both counted. */
export interface Days {
  readonly from: string;
  readonly to: string;
}

const salesWith = (db: ReadDb) =>
  db.q
    .selectFrom('sales as s')
    .innerJoin('builds as b', 'b.id', 's.build_id')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .innerJoin('channels as c', 'c.id', 's.channel_id')
    .innerJoin('buyers as p', 'p.id', 's.buyer_id')
    .leftJoin('tax_places as t', 't.id', 's.tax_place_id')
    .leftJoin('invoices as i', (join) =>
      // Written out: the index of the one invoice of a sale is found by these very words.
      join.onRef('i.sale_id', '=', 's.id').on(sql<boolean>`i.kind IN ('sale', 'second', 'balance')`),
    )
    .select(['s.id', 's.build_id', 's.on_date', 's.taken_back_on', 's.price_minor', 's.shipping_minor'])
    .select(['s.tax_minor', 's.tax_rate_ppm', 's.tax_on_shipping', 's.tax_inclusive', 's.tax_rounding'])
    .select(['s.fee_minor', 's.deposit_fee_minor', 's.postage_paid_minor', 's.kept_minor', 's.order_id'])
    .select(['s.flaw', 's.channel_id', 's.tax_label', 's.release_id'])
    .select(['b.serial', 'b.method', 'b.minutes', 'm.code as model_code', 'm.name as model_name'])
    .select(['c.name as channel_name', 'p.name as buyer_name', 't.name as place', 'i.id as invoice_id'])
    .select(
      sql<number>`s.release_id IS NOT NULL AND EXISTS (SELECT 1 FROM claims q WHERE q.build_id = s.build_id
        AND q.release_id = s.release_id AND q.outcome = 'sold' AND q.by_rule <> 'public')`.as('early'),
    )
    .orderBy('s.on_date')
    .orderBy('b.number');

/** Sales of some days. Amounts as priced; `early` tells whether it fell into the window for supporters of its release. */
export const salesIn = (db: ReadDb, { from, to }: Days) =>
  db.all(salesWith(db).where('s.on_date', '>=', from).where('s.on_date', '<=', to));
export type YearSale = ReturnType<typeof salesIn>[number];

/**
 * Sales of before that make a difference to a year: taken back or credited in it.
 * @param late knives whose sale of before is wanted too
 */
export const earlierSales = (db: ReadDb, { from, to }: Days, late: readonly string[]): YearSale[] =>
  db.all(
    salesWith(db)
      .where('s.on_date', '<', from)
      .where(
        sql<boolean>`s.rowid IN (
          SELECT rowid FROM sales WHERE taken_back_on BETWEEN ${from} AND ${to}
          UNION SELECT rowid FROM sales WHERE ${amongIds(sql.ref('build_id'), late)}
          UNION SELECT z.rowid FROM invoices k JOIN invoices w ON w.id = k.credits_id JOIN sales z ON z.id = w.sale_id
            WHERE k.issued_on BETWEEN ${from} AND ${to})`,
      ),
  );

/** What credits took off the own invoice of each sale, by the day of the credit; amounts above zero. */
export const saleCredits = (db: ReadDb, { from, to }: Days, late: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('invoices as k')
      .innerJoin('invoices as w', 'w.id', 'k.credits_id')
      .where('w.sale_id', 'is not', null)
      .where(
        sql<boolean>`w.sale_id IN (SELECT id FROM sales WHERE on_date BETWEEN ${from} AND ${to}
          UNION SELECT id FROM sales WHERE taken_back_on BETWEEN ${from} AND ${to}
          UNION SELECT id FROM sales WHERE ${amongIds(sql.ref('build_id'), late)}
          UNION SELECT v.sale_id FROM invoices e JOIN invoices v ON v.id = e.credits_id
            WHERE e.issued_on BETWEEN ${from} AND ${to})`,
      )
      .where('k.issued_on', '<=', to)
      .select([sql<string>`w.sale_id`.as('sale_id'), 'k.issued_on'])
      .select([sql<number>`-k.net_minor`.as('net_minor'), sql<number>`-k.tax_minor`.as('tax_minor')])
      .orderBy('k.issued_on'),
  );

/** Knives that ended without a sale in a year: scrapped, kept, given away. One lost to a buyer is a loss like one scrapped. */
export const endedKnives = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .select([
        'b.id',
        'b.serial',
        'b.ended_on',
        'b.minutes',
        'b.end_reason',
        'm.name as model_name',
        sql<
          'scrapped' | 'kept'
        >`CASE WHEN b.state = 'kept' AND b.end_reason <> ${LOST_TO_BUYER} THEN 'kept' ELSE 'scrapped' END`.as(
          'state',
        ),
      ])
      .where('b.state', 'in', ['scrapped', 'kept'])
      .where('b.ended_on', '>=', from)
      .where('b.ended_on', '<=', to)
      .orderBy('b.ended_on')
      .orderBy('b.number'),
  );

/** Numbers of the knives there are: where a walk over them ends. */
export const lastBuildNumber = (db: ReadDb): number =>
  db.one(db.q.selectFrom('builds').select((e) => e.fn.max<number | null>('number').as('top')))?.top ?? 0;

/**
 * Knives begun by the end of a year and not gone before it began, a stretch of numbers at a time.
 * `outFrom` to `outTo` is when it was sold; `ended_on` when it was scrapped or kept.
 */
export const knivesAlive = (
  db: ReadDb,
  { from, to }: Days,
  numbers: { readonly above: number; readonly upTo: number },
) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .leftJoin('sales as s', (join) => join.onRef('s.build_id', '=', 'b.id').on('s.on_date', '<=', to))
      .select(['b.id', 'b.started_on', 'b.finished_on', 's.on_date as out_from', 's.taken_back_on as out_to'])
      .select(
        sql<string | null>`CASE WHEN b.state IN ('scrapped', 'kept') THEN b.ended_on END`.as('ended_on'),
      )
      .where('b.number', '>', numbers.above)
      .where('b.number', '<=', numbers.upTo)
      .where('b.started_on', '<=', to)
      .where(sql<boolean>`NOT (b.state IN ('scrapped', 'kept') AND b.ended_on < ${from})`)
      .where(
        sql<boolean>`NOT EXISTS (SELECT 1 FROM sales z WHERE z.build_id = b.id AND z.on_date < ${from}
          AND (z.taken_back_on IS NULL OR z.taken_back_on > ${to}))`,
      )
      .orderBy('b.number'),
  );
export type KnifeAlive = ReturnType<typeof knivesAlive>[number];

export interface SheetSum {
  readonly build_id: string;
  readonly materials: number;
  readonly consumables: number;
  readonly energy: number;
  readonly packaging: number;
}

/** The statement that adds up sheets: its words are put together once for a report and not for each stretch of knives. */
export interface SheetRule {
  readonly text: string;
}

const quoted = (text: string): string => `'${text.replaceAll("'", "''")}'`;

/**
 * How sheets name and round their lines.
 * @param words for the kinds of items: the line of a draw that served no named part
 * @param unit micro in one minor unit; even
 */
export function sheetRule(words: Readonly<Record<string, string>>, unit: number): SheetRule {
  // Half away from zero.
  const rounded = `((abs(v) + ${String(unit / 2)}) / ${String(unit)}) * sign(v)`;
  const sum = (use: string): string => `sum(CASE use_as WHEN ${quoted(use)} THEN ${rounded} ELSE 0 END)`;
  const kinds = Object.entries(words).map(([kind, word]) => `WHEN ${quoted(kind)} THEN ${quoted(word)}`);
  const line = `CASE WHEN m.use_as <> 'material' THEN '' WHEN m.part_label <> '' THEN m.part_label ELSE
    (SELECT CASE i.kind ${kinds.join(' ')} END FROM lots l JOIN items i ON i.id = l.item_id WHERE l.id = m.lot_id) END`;
  const among = 'IN (SELECT value FROM json_each(?))';
  return {
    text: `SELECT build_id, ${sum('material')} AS materials, ${sum('consumable')} AS consumables,
        ${sum('energy')} AS energy, ${sum('packaging')} AS packaging
      FROM (SELECT build_id, use_as, line, sum(v) AS v FROM (
          SELECT m.build_id, m.use_as, ${line} AS line, -m.value_micro AS v FROM movements m
            WHERE m.build_id ${among} AND m.kind IN ('draw', 'reversal') AND m.on_date <= ?
          UNION ALL
          SELECT c.build_id, c.use_as, CASE c.use_as WHEN 'material' THEN c.label ELSE '' END, c.amount_micro FROM charges c
            WHERE c.build_id ${among} AND c.on_date <= ?)
        GROUP BY build_id, use_as, line)
      GROUP BY build_id`,
  };
}

/**
 * Direct cost of knives at the end of a day in minor units, each line rounded once as on the cost sheet: every
 * material is a line, consumables, energy and packaging are one each. A knife without entries has no row.
 */
export function sheetSums(db: ReadDb, ids: readonly string[], upTo: string, { text }: SheetRule): SheetSum[] {
  const among = JSON.stringify(ids);
  return db.all({
    compile: () => CompiledQuery.raw(text, [among, upTo, among, upTo]) as CompiledQuery<SheetSum>,
  });
}

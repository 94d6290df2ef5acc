/** What the sheet for the preparer reads of payments, fees, sales tax and customers' money. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import type { Span } from './expenses.ts';
import { ownOfSale } from './selling.ts';

/**
 * Payments of a span of days, each with what its invoice asks for, what was paid on it before, and the shipping it
 * charges without tax.
 */
export const paymentsWithBefore = (db: ReadDb, { from, to }: Span) =>
  db.all(
    db.q
      .selectFrom('payments as y')
      .innerJoin('invoices as i', 'i.id', 'y.invoice_id')
      .leftJoin('sales as s', 's.id', 'i.sale_id')
      .leftJoin('tax_places as t', 't.id', 's.tax_place_id')
      .where('y.on_date', '>=', from)
      .where('y.on_date', '<=', to)
      .select(['y.on_date', 'y.amount_minor', 'y.reverses_id', 'i.kind', 'i.tax_rate_ppm as rate_ppm'])
      .select(sql<string>`coalesce(t.name, i.tax_label)`.as('place'))
      .select(['i.total_minor', 'i.prepaid_minor', 'i.tax_minor', 'i.prepaid_tax_minor'])
      .select([
        sql<number>`coalesce((SELECT sum(b.amount_minor) FROM payments b WHERE b.invoice_id = y.invoice_id
          AND (b.on_date < y.on_date OR (b.on_date = y.on_date AND b.seq < y.seq))), 0)`.as('before_minor'),
        sql<number>`coalesce(CASE s.tax_inclusive WHEN 1 THEN 0 ELSE s.shipping_minor END, 0)`.as(
          'shipping_minor',
        ),
      ])
      .orderBy('y.on_date')
      .orderBy('y.seq'),
  );
export type PaidRow = ReturnType<typeof paymentsWithBefore>[number];

/** Sales without an invoice of their own: they count as paid on their day. */
export const salesWithoutInvoice = (db: ReadDb, { from, to }: Span): readonly string[] =>
  db
    .all(
      db.q
        .selectFrom('sales as s')
        .where('s.on_date', '>=', from)
        .where('s.on_date', '<=', to)
        .where(({ not, exists, selectFrom }) =>
          not(
            exists(
              selectFrom('invoices as i')
                .select('i.id')
                .whereRef('i.sale_id', '=', 's.id')
                .where('i.kind', 'in', ownOfSale),
            ),
          ),
        )
        .select('s.id'),
    )
    .map(({ id }) => id);

/** The day each sale of a span was first paid on its own invoice; null while it is not. */
export const firstPaidOn = (db: ReadDb, saleIds: readonly string[]): ReadonlyMap<string, string | null> =>
  new Map(
    db
      .all(
        db.q
          .selectFrom('invoices as i')
          .where(sql<boolean>`i.sale_id IN (SELECT value FROM json_each(${JSON.stringify(saleIds)}))`)
          .where('i.kind', 'in', ownOfSale)
          .select('i.sale_id')
          .select(
            sql<
              string | null
            >`(SELECT min(y.on_date) FROM payments y WHERE y.invoice_id = i.id AND y.amount_minor > 0
              AND NOT EXISTS (SELECT 1 FROM payments r WHERE r.reverses_id = y.id))`.as('on_date'),
          ),
      )
      .map((row) => [row.sale_id ?? '', row.on_date]),
  );

/** The day an invoice's tax counts. */
const taxDay = sql<string>`coalesce(i.tax_on, i.issued_on)`;

/** Sales tax that became due in a span of days by place and rate, on invoices and credits, and on sales without one. */
export const taxDueIn = (db: ReadDb, { from, to }: Span) =>
  db.all(
    db.q
      .selectFrom('invoices as i')
      .leftJoin('invoices as c', 'c.id', 'i.credits_id')
      .leftJoin('sales as s', (join) => join.on(sql<boolean>`s.id = coalesce(i.sale_id, c.sale_id)`))
      .leftJoin('tax_places as t', 't.id', 's.tax_place_id')
      .where(sql<boolean>`${taxDay} BETWEEN ${from} AND ${to}`)
      .select([
        sql<string>`coalesce(t.name, i.tax_label)`.as('place'),
        'i.tax_rate_ppm as rate_ppm',
        sql<string>`min(i.tax_label)`.as('label'),
        sql<number>`sum(i.tax_base_minor)`.as('base_minor'),
        sql<number>`sum(i.tax_minor - i.prepaid_tax_minor)`.as('due_minor'),
      ])
      .groupBy(['place', 'rate_ppm'])
      .having(sql<boolean>`sum(abs(i.tax_minor)) <> 0`)
      .orderBy('place'),
  );

/** Names of tax places by id. */
export const taxPlaceNames = (db: ReadDb): ReadonlyMap<string, string> =>
  new Map(db.all(db.q.selectFrom('tax_places').select(['id', 'name'])).map(({ id, name }) => [id, name]));

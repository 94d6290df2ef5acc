/** What the year's report and the sheet for the preparer read of fees and sales tax. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import type { Span } from './expenses.ts';
import { ownOfSale } from './selling.ts';

/**
 * Fees of the charges on sales' own invoices by the day the first money came; without an invoice of its own a sale counts
 * as paid on its day. Fees of deposits are counted by their own day.
 */
export const saleFeesPaid = (db: ReadDb, { from, to }: Span): number => {
  const own = sql.join(ownOfSale.map((kind) => sql.lit(kind)));
  const paid = sql`(SELECT min(y.on_date) FROM invoices i JOIN payments y ON y.invoice_id = i.id
    WHERE i.sale_id = s.id AND i.kind IN (${own}) AND y.amount_minor > 0
    AND NOT EXISTS (SELECT 1 FROM payments r WHERE r.reverses_id = y.id))`;
  const invoiced = sql`EXISTS (SELECT 1 FROM invoices i WHERE i.sale_id = s.id AND i.kind IN (${own}))`;
  return (
    db.one(
      db.q
        .selectFrom('sales as s')
        .where('s.on_date', '<=', to)
        .where(sql<boolean>`s.fee_minor <> s.deposit_fee_minor`)
        .where(sql<boolean>`CASE WHEN ${invoiced} THEN ${paid} ELSE s.on_date END BETWEEN ${from} AND ${to}`)
        .select(sql<number>`coalesce(sum(s.fee_minor - s.deposit_fee_minor), 0)`.as('minor')),
    )?.minor ?? 0
  );
};

/**
 * Where invoice `i` of sale `s` or order `o` is taxed: as it says itself; one issued before it did, where its sale or order
 * is.
 */
export const taxedAt = sql<string>`coalesce(i.particulars ->> 'taxPlaceId', s.tax_place_id, o.tax_place_id)`;

/** The day an invoice's tax counts. */
const taxDay = sql<string>`coalesce(i.tax_on, i.issued_on)`;

/** Invoices and credits whose tax counts in a span of days, each with the place it was taxed at. */
const taxedIn = (db: ReadDb, { from, to }: Span) =>
  db.q
    .selectFrom('invoices as i')
    .leftJoin('invoices as c', 'c.id', 'i.credits_id')
    .leftJoin('sales as s', (join) => join.on(sql<boolean>`s.id = coalesce(i.sale_id, c.sale_id)`))
    .leftJoin('orders as o', (join) => join.on(sql<boolean>`o.id = coalesce(i.order_id, c.order_id)`))
    .leftJoin('tax_places as t', (join) => join.on(sql<boolean>`t.id = ${taxedAt}`))
    .where(sql<boolean>`${taxDay} BETWEEN ${from} AND ${to}`);

/**
 * Sales tax that became due in a span of days by place and rate, on invoices and credits. What deposits were taxed for
 * already is off the final invoice, the tax and what it is on.
 */
export const taxDueIn = (db: ReadDb, span: Span) =>
  db.all(
    taxedIn(db, span)
      .select([
        sql<string>`coalesce(t.name, i.tax_label)`.as('place'),
        'i.tax_rate_ppm as rate_ppm',
        'i.tax_label as label',
        sql<number>`sum(i.tax_base_minor - CASE i.prepaid_tax_minor WHEN 0 THEN 0
          ELSE i.prepaid_minor - i.prepaid_tax_minor END)`.as('base_minor'),
        sql<number>`sum(i.tax_minor - i.prepaid_tax_minor)`.as('due_minor'),
      ])
      // Not by the names given here: an order has a place on its list, and a tax place has a rate, of the same names.
      .groupBy(['t.name', 'i.tax_rate_ppm', 'i.tax_label'])
      .having(sql<boolean>`sum(abs(i.tax_minor)) <> 0`)
      .orderBy('place'),
  );

/** The invoices and credits that tax is made of, each with what became due by it. */
export const taxDocuments = (db: ReadDb, span: Span) =>
  db.all(
    taxedIn(db, span)
      .where(sql<boolean>`i.tax_minor - i.prepaid_tax_minor <> 0`)
      .select(['i.id', 'i.number', 'i.buyer_name', 'i.tax_rate_ppm as rate_ppm', 'i.tax_label as label'])
      .select(['t.name as place', taxDay.as('on_date')])
      .select(sql<number>`i.tax_minor - i.prepaid_tax_minor`.as('due_minor'))
      .orderBy(taxDay)
      .orderBy('i.number'),
  );

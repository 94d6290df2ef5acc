/** Money of invoices in a year, row by row where it is few: payments, what each invoice asks, customers' money. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { keptAt } from './income-beside-knives.ts';
import { amongIds } from './like.ts';
import { taxedAt } from './sheet-money.ts';
import type { Days } from './year-knives.ts';

/** Payments of a year with the invoice they belong to. */
export const yearPayments = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('payments as y')
      .where('y.on_date', '>=', from)
      .where('y.on_date', '<=', to)
      .select(['y.id', 'y.on_date', 'y.amount_minor', 'y.method', 'y.reverses_id', 'y.invoice_id'])
      .orderBy('y.on_date')
      .orderBy('y.seq'),
  );
export type YearPayment = ReturnType<typeof yearPayments>[number];

/** Invoices whose money a year has to do with: paid, issued or credited in it. */
export const yearInvoices = (db: ReadDb, { from, to }: Days) =>
  db.all(
    db.q
      .selectFrom('invoices as i')
      .where('i.kind', '<>', 'credit')
      .where(
        sql<boolean>`i.rowid IN (SELECT rowid FROM invoices WHERE issued_on BETWEEN ${from} AND ${to}
          UNION SELECT w.rowid FROM payments y JOIN invoices w ON w.id = y.invoice_id WHERE y.on_date BETWEEN ${from} AND ${to}
          UNION SELECT rowid FROM invoices WHERE order_id IN (SELECT id FROM orders WHERE ended_on BETWEEN ${from} AND ${to})
          UNION SELECT w.rowid FROM invoices k JOIN invoices w ON w.id = k.credits_id WHERE k.issued_on BETWEEN ${from} AND ${to})`,
      )
      .select(['i.id', 'i.number', 'i.kind', 'i.sale_id', 'i.order_id', 'i.service_id', 'i.issued_on'])
      .select(['i.total_minor', 'i.tax_minor', 'i.prepaid_minor', 'i.prepaid_tax_minor', 'i.buyer_name'])
      .select(['i.tax_label', 'i.tax_rate_ppm', 'i.net_minor'])
      .orderBy('i.issued_on')
      .orderBy('i.series_no'),
  );
export type YearInvoice = ReturnType<typeof yearInvoices>[number];

/** Sales of earlier years that invoices belong to, as they were priced, and the place each invoice is taxed at. */
export const saleOfInvoices = (db: ReadDb, ids: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('invoices as i')
      .leftJoin('sales as s', 's.id', 'i.sale_id')
      .leftJoin('orders as o', 'o.id', 'i.order_id')
      .leftJoin('tax_places as t', (join) => join.on(sql<boolean>`t.id = ${taxedAt}`))
      .where(amongIds(sql.ref('i.id'), ids))
      .select(['i.id', 't.name as place'])
      // Nothing where an invoice is of no sale; it charges no shipping then.
      .select((e) =>
        (['price_minor', 'shipping_minor', 'tax_minor', 'tax_rate_ppm', 'tax_on_shipping'] as const).map(
          (column) => e.fn.coalesce(`s.${column}`, sql<number>`0`).as(column),
        ),
      )
      .select((e) => [
        e.fn.coalesce('s.tax_inclusive', sql<number>`0`).as('tax_inclusive'),
        e.fn.coalesce('s.tax_rounding', sql<string>`''`).as('tax_rounding'),
      ]),
  );

/** What was paid on invoices before a day. */
export const paidBefore = (db: ReadDb, ids: readonly string[], day: string) =>
  db.all(
    db.q
      .selectFrom('payments')
      .where(amongIds(sql.ref('invoice_id'), ids))
      .where('on_date', '<', day)
      .select('invoice_id')
      .select((e) => e.fn.sum<number>('amount_minor').as('paid_minor'))
      .groupBy('invoice_id'),
  );

/** Credits of invoices up to a day; amounts above zero. */
export const creditsOf = (db: ReadDb, ids: readonly string[], upTo: string) =>
  db.all(
    db.q
      .selectFrom('invoices as k')
      .where(amongIds(sql.ref('k.credits_id'), ids))
      .where('k.issued_on', '<=', upTo)
      .select([sql<string>`k.credits_id`.as('invoice_id'), 'k.issued_on'])
      .select([sql<number>`-k.total_minor`.as('total_minor'), sql<number>`-k.tax_minor`.as('tax_minor')])
      .orderBy('k.issued_on'),
  );

/** Orders, with the day of the sale they ended in, of those invoices. */
export const ordersOf = (db: ReadDb, ids: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('orders as o')
      .leftJoin('sales as s', 's.id', 'o.sale_id')
      .where(amongIds(sql.ref('o.id'), ids))
      .select(['o.id', 'o.number', 'o.state', 'o.ended_on', 'o.sale_id', 's.on_date as sold_on'])
      .select(['o.kept_minor', 'o.kept_tax_minor']),
  );

/**
 * Deposits of orders that were neither delivered nor ended by a day, and what is still to go back of ended ones. What a
 * buyer owes, as when a payment was taken back by the bank, is no one else's money less.
 */
export const heldAt = (db: ReadDb, day: string) => {
  const paid = sql<number>`coalesce((SELECT sum(y.amount_minor) FROM invoices i JOIN payments y ON y.invoice_id = i.id
    WHERE i.order_id = o.id AND i.kind = 'deposit' AND y.on_date <= ${day}), 0)`;
  // As it was on the day: what was credited of it later was still kept then.
  const kept = sql<number>`CASE WHEN o.ended_on <= ${day} THEN ${keptAt('total_minor', sql`${day}`)} ELSE 0 END`;
  return db.all(
    db.q
      .selectFrom('orders as o')
      .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
      .where(sql<boolean>`o.agreed_on <= ${day}`)
      .where(sql<boolean>`(o.ended_on IS NULL OR o.ended_on > ${day} OR o.state = 'cancelled')`)
      .where(sql<boolean>`${paid} - ${kept} > 0`)
      .select(['o.id', 'o.number', 'p.name as buyer_name'])
      .select(sql<number>`${paid} - ${kept}`.as('minor'))
      .orderBy('o.number'),
  );
};

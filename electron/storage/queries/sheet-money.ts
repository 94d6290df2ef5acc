/** What the year's report and the sheet for the preparer read of fees and sales tax. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import type { Span } from './expenses.ts';
import { amongIds } from './like.ts';
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

/** Whether a final invoice says which deposits it took off; those that do give back the tax of each where it was taken. */
const namesDeposits = sql<number>`(i.prepaid_tax_minor <> 0 AND json_array_length(i.particulars, '$.deposits') > 0)`;

/** Invoices and credits whose tax counts in a span of days, each with the place it was taxed at. */
const written = (db: ReadDb, { from, to }: Span) =>
  db.q
    .selectFrom('invoices as i')
    .leftJoin('invoices as c', 'c.id', 'i.credits_id')
    .leftJoin('sales as s', (join) => join.on(sql<boolean>`s.id = coalesce(i.sale_id, c.sale_id)`))
    .leftJoin('orders as o', (join) => join.on(sql<boolean>`o.id = coalesce(i.order_id, c.order_id)`))
    .leftJoin('tax_places as t', (join) => join.on(sql<boolean>`t.id = ${taxedAt}`))
    .where(sql<boolean>`${taxDay} BETWEEN ${from} AND ${to}`)
    .select(['i.id', 'i.number', 'i.buyer_name', 't.name as told', 'i.tax_label as label'])
    .select(['i.tax_rate_ppm as ppm', taxDay.as('on_date')])
    .select(
      sql<number>`i.tax_base_minor - CASE WHEN i.prepaid_tax_minor = 0 OR ${namesDeposits} THEN 0
        ELSE i.prepaid_minor - i.prepaid_tax_minor END`.as('base'),
    )
    .select(
      sql<number>`i.tax_minor - CASE WHEN ${namesDeposits} THEN 0 ELSE i.prepaid_tax_minor END`.as('due'),
    );

/** Final invoices `f` with each taxed deposit `i` they took off, and the place `t` that taxed it. */
const withDeposits = (db: ReadDb) =>
  db.q
    .selectFrom('invoices as f')
    .innerJoin('invoices as i', (join) =>
      join.on(sql<boolean>`i.order_id = f.order_id AND i.kind = 'deposit'`),
    )
    .innerJoin(sql<{ value: string }>`json_each(f.particulars, '$.deposits')`.as('j'), (join) =>
      join.on(sql<boolean>`j.value ->> 'number' = i.number AND j.value ->> 'taxMinor' <> 0`),
    )
    .leftJoin('sales as s', 's.id', 'i.sale_id')
    .leftJoin('orders as o', 'o.id', 'i.order_id')
    .leftJoin('tax_places as t', (join) => join.on(sql<boolean>`t.id = ${taxedAt}`))
    .where('f.prepaid_tax_minor', '<>', 0);

/** Of final invoices, the tax they took off of their deposits, with the place, name and rate it was taken at. */
export const taxTakenOff = (db: ReadDb, ids: readonly string[]) =>
  db.all(
    withDeposits(db)
      .where(amongIds(sql.ref('f.id'), ids))
      .select(['f.id', 't.name as place', 'i.tax_label as label', 'i.tax_rate_ppm as rate_ppm'])
      .select(sql<number>`j.value ->> 'taxMinor'`.as('tax_minor'))
      .orderBy('i.number'),
  );

/** What final invoices of a span of days take off of deposits that were taxed: at the place and rate of the deposit. */
const takenOff = (db: ReadDb, { from, to }: Span) =>
  withDeposits(db)
    .where(sql<boolean>`coalesce(f.tax_on, f.issued_on) BETWEEN ${from} AND ${to}`)
    .select(['f.id', 'f.number', 'f.buyer_name', 't.name as told', 'i.tax_label as label'])
    .select(['i.tax_rate_ppm as ppm', sql<string>`coalesce(f.tax_on, f.issued_on)`.as('on_date')])
    .select(sql<number>`j.value ->> 'taxMinor' - j.value ->> 'paidMinor'`.as('base'))
    .select(sql<number>`-(j.value ->> 'taxMinor')`.as('due'));

const taxParts = (db: ReadDb, span: Span) =>
  db.q.selectFrom(written(db, span).unionAll(takenOff(db, span)).as('x'));

/**
 * Sales tax that became due in a span of days by place and rate, on invoices and credits. What deposits were taxed for
 * already is off again with the final invoice, the tax and what it is on, where the deposit was taxed.
 */
export const taxDueIn = (db: ReadDb, span: Span) =>
  db.all(
    taxParts(db, span)
      .select([sql<string>`coalesce(x.told, x.label)`.as('place'), 'x.ppm as rate_ppm', 'x.label'])
      .select([sql<number>`sum(x.base)`.as('base_minor'), sql<number>`sum(x.due)`.as('due_minor')])
      .groupBy(['x.told', 'x.ppm', 'x.label'])
      .having(sql<boolean>`sum(abs(x.due)) <> 0`)
      .orderBy('place'),
  );

/** The invoices and credits that tax is made of, each with what became due by it at one place and rate. */
export const taxDocuments = (db: ReadDb, span: Span) =>
  db.all(
    taxParts(db, span)
      .select(['x.id', 'x.number', 'x.buyer_name', 'x.ppm as rate_ppm', 'x.label', 'x.told as place'])
      .select(['x.on_date', sql<number>`sum(x.due)`.as('due_minor')])
      .groupBy(['x.id', 'x.told', 'x.ppm', 'x.label'])
      .having(sql<boolean>`sum(x.due) <> 0`)
      .orderBy('x.on_date')
      .orderBy('x.number'),
  );

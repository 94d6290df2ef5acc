/** Issued invoices, their lines and payments. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { InvoiceLinesTable, InvoicesTable, PaymentsTable } from '../schema-selling.ts';
import { contains } from './like.ts';

const paid = sql<number>`coalesce((select sum(y.amount_minor) from payments y where y.invoice_id = i.id), 0)`;
/** What credits took off an invoice, as a positive amount. */
const credited = sql<number>`coalesce((select -sum(c.total_minor) from invoices c where c.credits_id = i.id), 0)`;
const credits = sql<number>`(select count(*) from invoices c where c.credits_id = i.id)`;
const lastCredit = (column: 'id' | 'number') =>
  sql<
    string | null
  >`(select ${sql.ref(`c.${column}`)} from invoices c where c.credits_id = i.id order by c.issued_on desc, c.series_no desc limit 1)`;
/** What is still asked of the buyer; below zero is money to give back. The same as `openOf` of a row. */
const open = sql<number>`(case i.kind when 'credit' then 0 else i.total_minor - i.prepaid_minor - ${credited} - ${paid} end)`;
/** An invoice that has not been taken back as a whole. */
const stands = sql`i.kind <> 'credit' and not (${credits} > 0 and ${credited} >= i.total_minor)`;

export type InvoiceState = 'all' | 'open' | 'paid' | 'overdue';

export interface InvoiceFilter {
  readonly text?: string;
  readonly state?: InvoiceState;
  readonly buyerId?: string;
  /** Local day, for what is overdue. */
  readonly today: string;
}

/** What stands in the lines of an invoice. */
const about = sql<string>`coalesce((select group_concat(l.description || ' ' || l.detail, char(10))
  from invoice_lines l where l.invoice_id = i.id), '')`;

function matching(db: ReadDb, filter: InvoiceFilter) {
  let found = db.q.selectFrom('invoices as i');
  if (filter.buyerId !== undefined) {
    // Issued to an entry that was put together with this one, too: an invoice is not rewritten.
    const same = sql`(select id from buyers where id = ${filter.buyerId} or merged_into_id = ${filter.buyerId})`;
    found = found.where(sql<boolean>`i.buyer_id in ${same}`);
  }
  if (filter.text !== undefined && filter.text !== '') {
    const lines = sql`i.number || ' ' || i.buyer_name || ' ' || ${about}`;
    found = found.where(sql<boolean>`${contains(lines, filter.text)}`);
  }
  if (filter.state === 'paid') found = found.where(sql<boolean>`${stands} and ${open} <= 0`);
  if (filter.state === 'open' || filter.state === 'overdue') {
    found = found.where(sql<boolean>`${open} > 0`);
  }
  if (filter.state === 'overdue') found = found.where('i.due_on', '<', filter.today);
  return found;
}

/** The statement behind the list; walks the days backwards without sorting. */
export const invoicePageStatement = (db: ReadDb, filter: InvoiceFilter, limit: number, offset: number) =>
  matching(db, filter)
    .select(['i.id', 'i.number', 'i.kind', 'i.issued_on', 'i.due_on', 'i.buyer_id', 'i.buyer_name'])
    .select(['i.total_minor', 'i.prepaid_minor', paid.as('paid_minor')])
    .select([credited.as('credited_minor'), credits.as('credits'), about.as('about')])
    .orderBy('i.issued_on', 'desc')
    .orderBy('i.series_no', 'desc')
    .limit(limit)
    .offset(offset);

/** Invoices, newest first, with what is paid and credited. */
export const listInvoices = (db: ReadDb, filter: InvoiceFilter, limit: number, offset: number) =>
  db.all(invoicePageStatement(db, filter, limit, offset));
export type InvoiceListRecord = ReturnType<typeof listInvoices>[number];

/** How many invoices match. */
export const countInvoices = (db: ReadDb, filter: InvoiceFilter): number =>
  db.one(matching(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** One invoice or credit, with what was paid and what credits what. */
export const invoiceRecord = (db: ReadDb, id: string) =>
  db.one(
    db.q
      .selectFrom('invoices as i')
      .leftJoin('invoices as o', 'o.id', 'i.credits_id')
      .where('i.id', '=', id)
      .selectAll('i')
      .select('o.number as credits_number')
      .select([
        paid.as('paid_minor'),
        credited.as('credited_minor'),
        credits.as('credits'),
        about.as('about'),
        lastCredit('id').as('credited_by_id'),
        lastCredit('number').as('credited_by_number'),
      ]),
  );
export type InvoiceRecord = NonNullable<ReturnType<typeof invoiceRecord>>;

/** The final invoice that took the deposits of an order off, and whether it still stands or was taken back as a whole. */
export const finalOf = (db: ReadDb, orderId: string) =>
  db.one(
    db.q
      .selectFrom('invoices as i')
      .select(['i.number', sql<number>`(${stands})`.as('stands')])
      .where('i.order_id', '=', orderId)
      .where('i.kind', '=', 'balance'),
  );

/** Ids of an order's invoices, credits left out, in the order they were issued. */
export const invoicesOfOrder = (db: ReadDb, orderId: string): readonly string[] =>
  db
    .all(
      db.q
        .selectFrom('invoices')
        .select('id')
        .where('order_id', '=', orderId)
        .where('kind', '<>', 'credit')
        .orderBy('issued_on')
        .orderBy('series_no'),
    )
    .map((row) => row.id);

/** Where a series of numbers stands: its highest counter and its latest day. */
export const seriesHead = (db: ReadDb, series: string) =>
  db.one(
    db.q
      .selectFrom('invoices')
      .where('series', '=', series)
      .select((e) => [e.fn.max('series_no').as('last_no'), e.fn.max('issued_on').as('last_on')]),
  );

/** The pattern of numbers a kind of paper has of its own. */
export const patternFor = (db: ReadDb, kind: string): string | undefined =>
  db.one(db.q.selectFrom('number_patterns').select('pattern').where('kind', '=', kind))?.pattern;

/** True when an invoice bears the number. */
export const numberIsTaken = (db: ReadDb, number: string): boolean =>
  db.one(db.q.selectFrom('invoices').select('id').where('number', '=', number)) !== undefined;

/** Lines of an invoice, in order. */
export const linesOf = (db: ReadDb, invoiceId: string): InvoiceLinesTable[] =>
  db.all(
    db.q.selectFrom('invoice_lines').selectAll().where('invoice_id', '=', invoiceId).orderBy('position'),
  );

/** Payments of an invoice in the order booked, with the one that took each back. */
export const paymentsOf = (db: ReadDb, invoiceId: string) =>
  db.all(
    db.q
      .selectFrom('payments as y')
      .leftJoin('payments as r', 'r.reverses_id', 'y.id')
      .where('y.invoice_id', '=', invoiceId)
      .selectAll('y')
      .select('r.id as reversed_by_id')
      .orderBy('y.seq'),
  );
export type PaymentRecord = ReturnType<typeof paymentsOf>[number];

/** One payment, with what took it back. */
export const paymentRecord = (db: ReadDb, id: string): PaymentRecord | undefined =>
  db.one(
    db.q
      .selectFrom('payments as y')
      .leftJoin('payments as r', 'r.reverses_id', 'y.id')
      .where('y.id', '=', id)
      .selectAll('y')
      .select('r.id as reversed_by_id'),
  );

/** A line before it belongs to an invoice. */
export type InvoiceLineRow = Omit<InvoiceLinesTable, 'invoice_id' | 'position'>;

/** Writes an invoice with its lines in their order. */
export function insertInvoice(db: WriteDb, row: InvoicesTable, lines: readonly InvoiceLineRow[]): void {
  db.run(db.q.insertInto('invoices').values(row));
  lines.forEach((line, position) => {
    db.run(db.q.insertInto('invoice_lines').values({ ...line, invoice_id: row.id, position }));
  });
}

/** Books a payment. */
export const insertPayment = (db: WriteDb, row: Omit<PaymentsTable, 'seq'>): number =>
  db.run(db.q.insertInto('payments').values(row));

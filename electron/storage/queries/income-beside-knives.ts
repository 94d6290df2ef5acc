/** What comes in beside the knives, and the fees of it: services, kept deposits. Amounts in the minor unit. */
import { type RawBuilder, sql } from 'kysely';
import type { ReadDb } from '../db.ts';

/** What was invoiced for service, or credited of it. */
export interface ServiceIncome {
  readonly invoiceId: string;
  readonly number: string;
  /** Local day of the invoice or the credit. */
  readonly on: string;
  readonly buyerId: string;
  readonly buyerName: string;
  /** Without tax; below zero for a credit. */
  readonly netMinor: number;
  readonly taxMinor: number;
}

/**
 * Invoices of service and free ones, which stand with no sale, and their credits, by the day each was issued.
 * @param from first local day
 * @param to last local day
 */
export const serviceIncome = (db: ReadDb, from: string, to: string): ServiceIncome[] =>
  db.all(
    db.q
      .selectFrom('invoices as i')
      .leftJoin('invoices as c', 'c.id', 'i.credits_id')
      .where(sql<boolean>`coalesce(c.kind, i.kind) = 'service'`)
      .where('i.issued_on', '>=', from)
      .where('i.issued_on', '<=', to)
      .select(['i.id as invoiceId', 'i.number', 'i.issued_on as on', 'i.buyer_id as buyerId'])
      .select(['i.buyer_name as buyerName', 'i.net_minor as netMinor', 'i.tax_minor as taxMinor'])
      .orderBy('i.issued_on')
      .orderBy('i.series_no'),
  );

/** What was kept of the deposits of one cancelled order, or given back of it later. */
export interface KeptDeposit {
  readonly orderId: string;
  readonly orderNumber: number;
  /** Local day the order was cancelled, or what was kept was credited after all. */
  readonly on: string;
  /** It was credited after the order was cancelled; the amounts are below zero. */
  readonly later: boolean;
  readonly buyerId: string;
  readonly buyerName: string;
  /** Without tax. */
  readonly netMinor: number;
  readonly taxMinor: number;
}

/**
 * What is kept of the deposits of a cancelled order `o` at the end of a day: what their invoices still ask once what was
 * credited is off. Told from the invoices, because the order's own column stays as it was once its year is closed.
 */
export const keptAt = (column: 'total_minor' | 'tax_minor', day: RawBuilder<unknown>) =>
  sql<number>`coalesce((SELECT sum(k.${sql.ref(column)}) FROM invoices d JOIN invoices k ON k.id = d.id OR k.credits_id = d.id
    WHERE d.order_id = o.id AND d.kind = 'deposit' AND k.issued_on <= ${day}), 0)`;

/**
 * Kept deposits by order, by the day it was cancelled, and what of them was credited later, by the day of the credit, so
 * that a year gone by does not change; both days counted.
 */
export function keptDepositsByOrder(db: ReadDb, from: string, to: string): KeptDeposit[] {
  const ended = sql.ref('o.ended_on');
  const keptMinor = keptAt('total_minor', ended);
  const taxMinor = keptAt('tax_minor', ended);
  const cancelled = db.q
    .selectFrom('orders as o')
    .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
    .where('o.state', '=', 'cancelled')
    .select(['o.id as orderId', 'o.number as orderNumber', 'o.buyer_id as buyerId', 'p.name as buyerName']);
  const kept = db.all(
    cancelled
      .where('o.ended_on', '>=', from)
      .where('o.ended_on', '<=', to)
      .where(sql<boolean>`${keptMinor} <> 0`)
      .select(['o.ended_on as on', taxMinor.as('taxMinor')])
      .select(sql<number>`${keptMinor} - (${taxMinor})`.as('netMinor'))
      .orderBy('o.ended_on')
      .orderBy('o.number'),
  );
  const given = db.all(
    cancelled
      .innerJoin('invoices as d', 'd.order_id', 'o.id')
      .innerJoin('invoices as k', 'k.credits_id', 'd.id')
      .where('d.kind', '=', 'deposit')
      .whereRef('k.issued_on', '>', 'o.ended_on')
      .where('k.issued_on', '>=', from)
      .where('k.issued_on', '<=', to)
      .select(['k.issued_on as on', 'k.tax_minor as taxMinor', 'k.net_minor as netMinor'])
      .orderBy('k.issued_on'),
  );
  return [
    // The days asked for leave none without one.
    ...kept.map((row) => ({ ...row, on: row.on ?? '', later: false })),
    ...given.map((row) => ({ ...row, later: true })),
  ];
}

/** The fee of one charge that no sale carries. */
export interface FeeBesideKnives {
  readonly paymentId: string;
  readonly invoiceId: string;
  readonly number: string;
  readonly kind: 'service' | 'deposit';
  /** Local day it counts on. */
  readonly on: string;
  readonly channelId: string | null;
  readonly feeMinor: number;
}

/** A deposit's charge counts once the order is cancelled: until then the sale to come may carry it. */
const feeDay = sql<string>`CASE i.kind WHEN 'service' THEN y.on_date ELSE max(y.on_date, o.ended_on) END`;

/**
 * Fees of charges on service invoices, by the day paid, and on deposits of cancelled orders, by the day the order
 * ended. The deposits of a delivered order have theirs in `sales.fee_minor`; those of an open order wait for it.
 * A payment taken out of the books takes its fee along.
 */
export const feesBesideKnives = (db: ReadDb, from: string, to: string): FeeBesideKnives[] =>
  db.all(
    db.q
      .selectFrom('payments as y')
      .innerJoin('invoices as i', 'i.id', 'y.invoice_id')
      .leftJoin('orders as o', 'o.id', 'i.order_id')
      .where('y.fee_minor', '<>', 0)
      .where(sql<boolean>`(i.kind = 'service' OR (i.kind = 'deposit' AND o.state = 'cancelled'))`)
      .where(sql<boolean>`NOT EXISTS (SELECT 1 FROM payments r WHERE r.reverses_id = y.id)`)
      .where(sql<boolean>`${feeDay} BETWEEN ${from} AND ${to}`)
      .select(['y.id as paymentId', 'i.id as invoiceId', 'i.number', 'y.channel_id as channelId'])
      .select([sql<'service' | 'deposit'>`i.kind`.as('kind'), feeDay.as('on'), 'y.fee_minor as feeMinor'])
      .orderBy(feeDay)
      .orderBy('y.seq'),
  );

/** What came in by the day it was paid, sales tax taken out payment by payment. Minor units. */
import { mulDiv } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { Span } from '../../storage/queries/expenses.ts';
import { paymentsWithBefore, type PaidRow } from '../../storage/queries/sheet-money.ts';

export interface Received {
  readonly knivesMinor: number;
  readonly shippingMinor: number;
  readonly depositsMinor: number;
  readonly serviceMinor: number;
  /** Paid back to buyers, below zero. */
  readonly refundsMinor: number;
  /** The sales tax in all of it. */
  readonly taxMinor: number;
}

const NOTHING: Received = {
  knivesMinor: 0,
  shippingMinor: 0,
  depositsMinor: 0,
  serviceMinor: 0,
  refundsMinor: 0,
  taxMinor: 0,
};

const clamp = (value: number, top: number): number => Math.max(0, Math.min(value, top));

/** A payment's part of something the invoice asks for, so that all its payments together take all of it. */
const partOf = (row: PaidRow, whole: number): number => {
  const ask = row.total_minor - row.prepaid_minor;
  if (ask <= 0 || whole === 0) return 0;
  const upTo = (paid: number): number => mulDiv(whole, clamp(paid, ask), ask);
  return upTo(row.before_minor + row.amount_minor) - upTo(row.before_minor);
};

/** The sales tax in a payment. */
export const taxInside = (row: PaidRow): number => partOf(row, row.tax_minor - row.prepaid_tax_minor);

function add(sum: Received, row: PaidRow): Received {
  const tax = taxInside(row);
  const net = row.amount_minor - tax;
  const taxMinor = sum.taxMinor + tax;
  const isRefund = row.amount_minor < 0 && row.reverses_id === null;
  if (isRefund) return { ...sum, taxMinor, refundsMinor: sum.refundsMinor + net };
  if (row.kind === 'deposit') return { ...sum, taxMinor, depositsMinor: sum.depositsMinor + net };
  if (row.kind === 'service') return { ...sum, taxMinor, serviceMinor: sum.serviceMinor + net };
  const shipping = partOf(row, row.shipping_minor);
  return {
    ...sum,
    taxMinor,
    shippingMinor: sum.shippingMinor + shipping,
    knivesMinor: sum.knivesMinor + net - shipping,
  };
}

/** Everything paid on invoices in a year, by what it was paid for. */
export const receivedIn = (db: ReadDb, span: Span): Received =>
  paymentsWithBefore(db, span).reduce(add, NOTHING);

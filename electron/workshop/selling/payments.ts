/** Money received on invoices, given back, and taken out of the books when booked by mistake. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { Payment } from '../../api/selling.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { channelRecord } from '../../storage/queries/selling.ts';
import {
  insertPayment,
  type InvoiceRecord,
  paymentRecord,
  type PaymentRecord,
  paymentsOf,
} from '../../storage/queries/selling-invoices.ts';
import type { CommandContext } from '../context.ts';
import { feeByRule } from '../costs/fee-words.ts';
import { isTakenBack, needInvoice, openOf, toPayment } from './invoice-rows.ts';
import { notInFuture } from './sale.ts';
import { isSetOff, otherHalf } from './set-off.ts';

function needPayment(db: ReadDb, id: string): PaymentRecord {
  const record = paymentRecord(db, id);
  if (!record) throw missing('This payment is not in the books.');
  return record;
}

/** Money received on one invoice. */
export interface Received {
  readonly invoiceId: string;
  /** Local day. */
  readonly on: string;
  readonly amountMinor: number;
  readonly method: string;
  readonly reference?: string;
  /** ISO 4217 code the money came in; the invoice's own unless given. */
  readonly currency?: string | undefined;
  /** How it was paid, where a channel keeps a fee of this one charge: deposits and services. */
  readonly channelId?: string | null | undefined;
  /** Leave out to use the channel's rule. */
  readonly feeMinor?: number | undefined;
  /** Paid from abroad, for the channel's rule. */
  readonly abroad?: boolean | undefined;
}

/** How money is said to come where it only goes from one invoice to another. */
export const MOVED = 'moved';

/** Kinds whose charges carry their fee themselves; the fee of every other stands with its sale. */
const FEE_ON_PAYMENT: ReadonlySet<string> = new Set(['deposit', 'service']);

/** Fee of one charge by its channel, or as entered. */
function feeOf(db: ReadDb, kind: string, paid: Received): number {
  if (paid.channelId === undefined || paid.channelId === null) {
    if ((paid.feeMinor ?? 0) > 0)
      throw invalid('Say by which way of selling this was paid, or leave the fee out.', 'channelId');
    return 0;
  }
  if (!FEE_ON_PAYMENT.has(kind))
    throw invalid(
      'The fee of this invoice stands with its sale. Leave the way of selling out here.',
      'channelId',
    );
  const channel = channelRecord(db, paid.channelId);
  if (!channel) throw invalid('This way of selling is not in the books. Choose another.', 'channelId');
  const charge = {
    priceMinor: paid.amountMinor,
    shippingMinor: 0,
    taxMinor: 0,
    abroad: paid.abroad === true,
  };
  // The fixed part of a rule can be more than a tiny payment; what is kept of a charge is never more than it brought.
  const feeMinor = paid.feeMinor ?? Math.min(feeByRule(channel, charge), paid.amountMinor);
  if (feeMinor > paid.amountMinor) throw invalid('The fee is more than the payment. Check both.', 'feeMinor');
  return feeMinor;
}

/** Books money received on an invoice. More than is open may be paid; the invoice then says so. @throws FaultError */
export function bookPayment(ctx: CommandContext, paid: Received): Payment {
  const invoice = needInvoice(ctx.db, paid.invoiceId);
  notInFuture(ctx, paid.on, 'on');
  if (invoice.kind === 'credit')
    throw refused('A credit note is not paid. Book the payment on the invoice itself.', 'invoiceId');
  // A payment the bank took back after its refund leaves money to ask for, whatever was credited.
  if (isTakenBack(invoice) && openOf(invoice) <= 0) {
    throw refused(
      `This invoice was taken back by ${invoice.credited_by_number ?? 'a credit note'}; nothing can be paid on it any more.`,
      'invoiceId',
    );
  }
  if (paid.currency !== undefined && paid.currency !== invoice.currency)
    throw refused(
      `Invoice ${invoice.number} is in ${invoice.currency}. Enter what arrived as ${invoice.currency}, as your bank changed it.`,
      'currency',
    );
  const id = ctx.newId();
  insertPayment(ctx.db, {
    id,
    invoice_id: invoice.id,
    on_date: paid.on,
    amount_minor: paid.amountMinor,
    method: paid.method,
    reference: paid.reference ?? '',
    reason: '',
    reverses_id: null,
    fee_minor: feeOf(ctx.db, invoice.kind, paid),
    channel_id: paid.channelId ?? null,
  });
  return toPayment(needPayment(ctx.db, id));
}

/** Money given back to a buyer. */
export interface Refunded {
  readonly invoiceId: string;
  readonly on: string;
  /** Above zero. */
  readonly amountMinor: number;
  readonly method: string;
  readonly reference?: string;
  readonly reason: string;
}

/** What goes back came in before, on the invoice or on the deposits it took off. @throws FaultError of the field `on` */
function demandCameIn(db: ReadDb, invoice: InvoiceRecord, { on, amountMinor }: Refunded): void {
  const payments = paymentsOf(db, invoice.id);
  const later = payments.filter((row) => row.on_date > on);
  const by = invoice.prepaid_minor + invoice.paid_minor - sumOf(later, (row) => row.amount_minor);
  const [next] = later.map((row) => row.on_date).toSorted();
  if (by >= amountMinor || next === undefined) return;
  throw invalid(
    `On ${on} only ${formatMinor(Math.max(0, by), invoice.currency)} had come in on ${invoice.number}; the next money on it is of ${next}. Change the date.`,
    'on',
  );
}

/**
 * Books money given back: a payment below zero. Only what is more than the invoice asks can be given back; what else
 * is to be returned is credited first. @throws FaultError naming the field
 */
export function bookRefund(ctx: CommandContext, back: Refunded): Payment {
  const invoice = needInvoice(ctx.db, back.invoiceId);
  notInFuture(ctx, back.on, 'on');
  if (invoice.kind === 'credit')
    throw refused('Money goes back on the invoice that was credited, not on the credit note.', 'invoiceId');
  if (back.on < invoice.issued_on)
    throw invalid(
      `The invoice is of ${invoice.issued_on}; no money can go back before. Change the date.`,
      'on',
    );
  demandCameIn(ctx.db, invoice, back);
  const over = Math.max(0, -openOf(invoice));
  if (back.amountMinor > over) {
    const what = over === 0 ? 'Nothing' : `Only ${formatMinor(over, invoice.currency)}`;
    throw refused(
      `${what} was paid on ${invoice.number} beyond what it asks. To give back more, credit that part of the invoice first.`,
      'amountMinor',
    );
  }
  const id = ctx.newId();
  insertPayment(ctx.db, {
    id,
    invoice_id: invoice.id,
    on_date: back.on,
    amount_minor: -back.amountMinor,
    method: back.method,
    reference: back.reference ?? '',
    reason: back.reason,
    reverses_id: null,
    fee_minor: 0,
    channel_id: null,
  });
  return toPayment(needPayment(ctx.db, id));
}

/** A row of the opposite amount, today. @returns its id */
function takeBack(ctx: CommandContext, before: PaymentRecord, reason: string): string {
  const id = ctx.newId();
  insertPayment(ctx.db, {
    id,
    invoice_id: before.invoice_id,
    on_date: ctx.clock.today(),
    amount_minor: -before.amount_minor,
    method: before.method,
    reference: before.reference,
    reason,
    reverses_id: before.id,
    fee_minor: 0,
    channel_id: null,
  });
  return id;
}

/**
 * Takes a payment or a refund back by a row of the opposite amount, today. Only once, and never a reversal itself. Where
 * two invoices were set off against each other, both halves go back.
 */
export function reversePayment(ctx: CommandContext, input: Parsed<'selling.reversePayment'>): Payment {
  const before = needPayment(ctx.db, input.paymentId);
  if (before.reverses_id !== null)
    throw invalid('This row takes back a payment itself. Book the payment again instead.', 'paymentId');
  if (before.reversed_by_id !== null) throw refused('This payment was taken back already.', 'paymentId');
  if (before.method === MOVED && before.reason !== '')
    throw refused(
      'This is no payment: money moved between two invoices when an order was cancelled. It stays, so that both agree.',
      'paymentId',
    );
  const half = isSetOff(before) ? otherHalf(ctx.db, before) : undefined;
  if (half !== undefined) takeBack(ctx, half, input.reason);
  return toPayment(needPayment(ctx.db, takeBack(ctx, before, input.reason)));
}

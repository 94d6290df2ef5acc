/** Money received on invoices, and taken back when booked by mistake. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { Payment } from '../../api/selling.ts';
import type { ReadDb } from '../../storage/db.ts';
import { insertPayment, paymentRecord, type PaymentRecord } from '../../storage/queries/selling-invoices.ts';
import type { CommandContext } from '../context.ts';
import { needInvoice, toPayment } from './invoice-rows.ts';
import { notInFuture } from './sale.ts';

function needPayment(db: ReadDb, id: string): PaymentRecord {
  const record = paymentRecord(db, id);
  if (!record) throw missing('This payment is not in the books.');
  return record;
}

/** Books a payment. More than is open may be paid; the invoice then says so. */
export function pay(ctx: CommandContext, input: Parsed<'selling.pay'>): Payment {
  const invoice = needInvoice(ctx.db, input.invoiceId);
  notInFuture(ctx, input.on, 'on');
  if (invoice.kind === 'credit')
    throw refused('A credit note is not paid. Book the payment on the invoice itself.', 'invoiceId');
  if (invoice.credited_by_id !== null) {
    throw refused(
      `This invoice was taken back by ${invoice.credited_by_number ?? 'a credit note'}; nothing can be paid on it any more.`,
      'invoiceId',
    );
  }
  const id = ctx.newId();
  insertPayment(ctx.db, {
    id,
    invoice_id: invoice.id,
    on_date: input.on,
    amount_minor: input.amountMinor,
    method: input.method,
    reference: input.reference,
    reason: '',
    reverses_id: null,
    fee_minor: 0,
    channel_id: null,
  });
  return toPayment(needPayment(ctx.db, id));
}

/** Takes a payment back by a row of the opposite amount, today. Only once, and never a reversal itself. */
export function reversePayment(ctx: CommandContext, input: Parsed<'selling.reversePayment'>): Payment {
  const before = needPayment(ctx.db, input.paymentId);
  if (before.reverses_id !== null)
    throw invalid('This row takes back a payment itself. Book the payment again instead.', 'paymentId');
  if (before.reversed_by_id !== null) throw refused('This payment was taken back already.', 'paymentId');
  const id = ctx.newId();
  insertPayment(ctx.db, {
    id,
    invoice_id: before.invoice_id,
    on_date: ctx.clock.today(),
    amount_minor: -before.amount_minor,
    method: before.method,
    reference: before.reference,
    reason: input.reason,
    reverses_id: before.id,
    fee_minor: 0,
    channel_id: null,
  });
  return toPayment(needPayment(ctx.db, id));
}

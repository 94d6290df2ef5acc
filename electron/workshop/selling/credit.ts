/** Taking back an invoice, or a part of it, by a credit note of its own number. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { formatMinor } from '../../domain/money.ts';
import { LOST_TO_BUYER } from '../../domain/year-sales.ts';
import type { ReadDb } from '../../storage/db.ts';
import { restateKept } from '../../storage/queries/orders.ts';
import { closedThrough } from '../../storage/seal/open-books.ts';
import { creditedParts, netLeftOf } from '../../storage/queries/returns.ts';
import { moveKnife, updateSale } from '../../storage/queries/selling.ts';
import { finalOf, type InvoiceRecord, linesOf } from '../../storage/queries/selling-invoices.ts';
import type { CommandContext } from '../context.ts';
import { noteReturn } from '../releases/sold.ts';
import { type KeptPart, planCredit } from './credit-plan.ts';
import { isTakenBack, needInvoice } from './invoice-rows.ts';
import { keepPaper, type PlannedPaper, setPaper } from './issue.ts';
import type { PlannedNumber } from './number.ts';
import { notInFuture } from './sale.ts';
import { needSale } from './sale-rows.ts';

/** What a credit is asked with. */
export interface CreditAsked {
  readonly invoiceId: string;
  /** Of the total, tax included; undefined is all that is left. */
  readonly amountMinor?: number | undefined;
  readonly on: string;
  readonly reason: string;
  /** Kept of a sale that comes back, as a line of its own; with the amount it adds up to what is left. */
  readonly kept?: KeptPart | undefined;
  /** Numbers planned in the same command and not in the books yet. */
  readonly planned?: readonly PlannedNumber[];
}

/** What a final invoice took off goes back with that one; credited here too, it would go back twice. @throws FaultError */
function demandNotCounted(db: ReadDb, record: InvoiceRecord): void {
  const final =
    record.kind === 'deposit' && record.order_id !== null ? finalOf(db, record.order_id) : undefined;
  if (final === undefined) return;
  const { number, stands } = final;
  throw refused(
    stands === 1
      ? `This deposit was taken off final invoice ${number} already. Take that one back instead, or a part of it.`
      : `This deposit was taken off final invoice ${number}, which was taken back with the deposit in it. Give the money back there.`,
    'invoiceId',
  );
}

/** @throws FaultError when nothing can be taken back of it, or not so much */
function amountOf(db: ReadDb, record: InvoiceRecord, asked: CreditAsked): number {
  if (record.kind === 'credit')
    throw refused('This is a credit note itself. Choose the invoice to take back.', 'invoiceId');
  if (isTakenBack(record))
    throw refused(
      `This invoice was taken back already, by ${record.credited_by_number ?? 'a credit note'}.`,
      'invoiceId',
    );
  demandNotCounted(db, record);
  const left = record.total_minor - record.credited_minor;
  if (asked.amountMinor !== undefined && asked.amountMinor > left)
    throw refused(
      `Only ${formatMinor(left, record.currency)} of this invoice is left to take back. Credit that much or less.`,
      'amountMinor',
    );
  return asked.amountMinor ?? left;
}

/** Checks a credit and sets its paper; writes nothing. Keep it with `keepPaper`. @throws FaultError naming the field */
export async function prepareCreditOf(ctx: CommandContext, asked: CreditAsked): Promise<PlannedPaper> {
  const record = needInvoice(ctx.db, asked.invoiceId);
  const amountMinor = amountOf(ctx.db, record, asked);
  notInFuture(ctx, asked.on, 'on');
  if (asked.on < record.issued_on)
    throw invalid(
      `The invoice is of ${record.issued_on}; it cannot be taken back before. Change the date.`,
      'on',
    );
  const original = {
    row: invoiceColumns(record),
    lines: linesOf(ctx.db, record.id),
    creditedMinor: record.credited_minor,
    ...creditedParts(ctx.db, record.id),
  };
  const plan = planCredit(ctx.db, original, amountMinor, {
    invoiceId: ctx.newId(),
    issuedOn: asked.on,
    reason: asked.reason,
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'on' },
    planned: asked.planned ?? [],
    kept: asked.kept,
  });
  return setPaper(ctx, plan);
}

/** The invoice's own columns, without what the list adds to them. */
function invoiceColumns({
  credited_by_id: _by,
  credited_by_number: _byNumber,
  credits_number: _number,
  credits: _credits,
  about: _about,
  credited_minor: _credited,
  paid_minor: _paid,
  ...row
}: InvoiceRecord) {
  return row;
}

/**
 * Issues the credit. When nothing is left of a sale's invoice, the sale ends: the knife comes back to the shelf, or is
 * gone for good and kept out of the stock of finished knives with that reason.
 */
export function credit(ctx: CommandContext, input: Parsed<'selling.credit'>, prepared: PlannedPaper) {
  const kept = keepPaper(ctx, prepared);
  const { sale_id: saleId, order_id: orderId } = prepared.plan.row;
  if (orderId !== null) restateKept(ctx.db, orderId, closedThrough(ctx.db));
  if (saleId === null) return kept;
  const sale = needSale(ctx.db, saleId);
  if (sale.taken_back_on !== null) {
    // The knife came back before and may be someone else's by now; only what was kept of the sale gets less.
    updateSale(ctx.db, sale.id, { kept_minor: netLeftOf(ctx.db, input.invoiceId) });
    return kept;
  }
  if (!isTakenBack(needInvoice(ctx.db, input.invoiceId))) return kept;
  updateSale(ctx.db, sale.id, { taken_back_on: input.on });
  moveKnife(
    ctx.db,
    sale.build_id,
    input.knifeComesBack
      ? { state: 'finished' }
      : { state: 'kept', ended_on: input.on, end_reason: LOST_TO_BUYER },
  );
  if (input.knifeComesBack) noteReturn(ctx, sale.id, input.reason);
  return kept;
}

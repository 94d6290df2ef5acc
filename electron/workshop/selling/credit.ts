/** Taking back a whole invoice by a credit note of its own number. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { moveKnife, updateSale } from '../../storage/queries/selling.ts';
import { linesOf } from '../../storage/queries/selling-invoices.ts';
import type { CommandContext } from '../context.ts';
import { needInvoice } from './invoice-rows.ts';
import { keepPaper, type PlannedPaper, setPaper } from './issue.ts';
import { planCredit } from './plan.ts';
import { notInFuture } from './sale.ts';
import { needSale } from './sale-rows.ts';

/** Checks the credit and sets its paper; writes nothing. */
export async function prepareCredit(
  ctx: CommandContext,
  input: Parsed<'selling.credit'>,
): Promise<PlannedPaper> {
  const {
    credited_by_id,
    credited_by_number,
    credits_number: _number,
    paid_minor: _paid,
    ...row
  } = needInvoice(ctx.db, input.invoiceId);
  if (row.kind === 'credit')
    throw refused('This is a credit note itself. Choose the invoice to take back.', 'invoiceId');
  if (credited_by_id !== null)
    throw refused(
      `This invoice was taken back already, by ${credited_by_number ?? 'a credit note'}.`,
      'invoiceId',
    );
  notInFuture(ctx, input.on, 'on');
  if (input.on < row.issued_on)
    throw invalid(
      `The invoice is of ${row.issued_on}; it cannot be taken back before. Change the date.`,
      'on',
    );
  const plan = planCredit(
    ctx.db,
    { row, lines: linesOf(ctx.db, row.id) },
    {
      invoiceId: ctx.newId(),
      issuedOn: input.on,
      reason: input.reason,
      madeAt: ctx.clock.now(),
      fields: { issuedOn: 'on' },
    },
  );
  return setPaper(ctx, plan);
}

/**
 * Issues the credit and ends the sale. The knife comes back to the shelf, or is gone for good:
 * then it is kept out of the stock of finished knives with that reason.
 */
export function credit(ctx: CommandContext, input: Parsed<'selling.credit'>, prepared: PlannedPaper) {
  const kept = keepPaper(ctx, prepared);
  const saleId = prepared.plan.row.sale_id;
  if (saleId === null) return kept;
  const sale = needSale(ctx.db, saleId);
  updateSale(ctx.db, sale.id, { taken_back_on: input.on });
  moveKnife(
    ctx.db,
    sale.build_id,
    input.knifeComesBack
      ? { state: 'finished' }
      : { state: 'kept', ended_on: input.on, end_reason: 'credited, not returned' },
  );
  return kept;
}

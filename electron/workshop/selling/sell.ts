/** Booking a sale, with its invoice and payment in the same step where asked. */
import type { Parsed } from '../../api/contract.ts';
import { insertSale, moveKnife, updateSale } from '../../storage/queries/selling.ts';
import { insertPayment } from '../../storage/queries/selling-invoices.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import { FaultError, refused } from '../../api/errors.ts';
import type { SaleRow } from '../../api/selling.ts';
import { takeUsual } from '../builds/take-usual.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { demandNotOrdered } from '../orders/belongs.ts';
import { admitSale, noteSale } from '../releases/sold.ts';
import { demandTicks, parcelReminders } from '../shipping/demand.ts';
import { keepPaper, type PlannedPaper, preparePaperOf } from './issue.ts';
import { demandHoldable } from './reckon.ts';
import { draftSale } from './sale.ts';
import { needSale, saleRows } from './sale-rows.ts';

export interface PreparedSale {
  readonly sale: SalesTable;
  readonly paper: PlannedPaper | undefined;
}

/** Checks the sale and sets its paper; writes nothing. */
export async function prepareSale(ctx: CommandContext, input: Parsed<'selling.sell'>): Promise<PreparedSale> {
  const sale = draftSale(ctx, input);
  return {
    sale,
    paper: input.invoice
      ? await preparePaperOf(ctx, sale, { dueOn: input.dueOn, paidBy: input.paidBy })
      : undefined,
  };
}

/**
 * Takes the packaging that leaves with a sale.
 * @throws FaultError of the field `packaging` when it cannot be had; nothing is sold then
 */
export function takePackaging(
  ctx: CommandContext,
  input: Pick<Parsed<'selling.sell'>, 'buildId' | 'on' | 'packaging'>,
): void {
  if (input.packaging === undefined) return;
  const { partIds, flatIds } = input.packaging;
  const parts = partIds.map((partId) => ({ partId }));
  try {
    takeUsual.run(ctx, { id: input.buildId, on: input.on, parts, flatIds }, undefined);
  } catch (error) {
    if (!(error instanceof FaultError)) throw error;
    const { kind, message } = error.fault;
    throw new FaultError({
      kind,
      message: `${message} Nothing was sold; mend that first, or sell it without the packaging.`,
      field: 'packaging',
    });
  }
}

/**
 * Holds a sale against the order book, First look and where the workshop ships, and remembers what was looked at.
 * @throws FaultError when the knife is someone else’s, or something was not ticked
 */
export function admit(ctx: CommandContext, sale: SalesTable, ticks: readonly string[]): void {
  const wanted = { buildId: sale.build_id, buyerId: sale.buyer_id, on: sale.on_date };
  demandNotOrdered(ctx.db, sale.build_id, sale.buyer_id);
  admitSale(ctx, wanted);
  const parcel = { ...wanted, addressId: sale.address_id, abroad: sale.abroad === 1 };
  demandTicks(ctx, { kind: 'sale', id: sale.id }, parcelReminders(ctx, parcel), ticks);
}

/**
 * Writes a sale and what goes with it.
 * @param paidBy how the whole invoice was paid on the day of sale; empty when it was not
 */
export function writeSale(ctx: CommandContext, { sale, paper }: PreparedSale, paidBy: string) {
  insertSale(ctx.db, sale);
  moveKnife(ctx.db, sale.build_id, { state: 'sold' });
  const kept = paper && keepPaper(ctx, paper);
  const total = paper?.plan.row.total_minor ?? 0;
  if (kept && paidBy !== '' && total > 0) {
    insertPayment(ctx.db, {
      id: ctx.newId(),
      invoice_id: kept.invoiceId,
      on_date: sale.on_date,
      amount_minor: total,
      method: paidBy,
      reference: '',
      reason: '',
      reverses_id: null,
      fee_minor: 0,
      channel_id: null,
    });
  }
  noteSale(ctx, { buildId: sale.build_id, buyerId: sale.buyer_id, on: sale.on_date, saleId: sale.id });
  return { saleId: sale.id, invoiceId: kept?.invoiceId ?? null, invoiceNumber: kept?.number ?? null };
}

/**
 * Puts the postage and fee really paid in the place of what was expected; the journal keeps each step.
 * Of a sale taken back too: a fee given back, or the postage home, still counts.
 */
export function bookActuals(ctx: CommandContext, input: Parsed<'selling.actuals'>): SaleRow {
  const before = needSale(ctx.db, input.saleId);
  const { postagePaidMinor, feeMinor } = input;
  demandHoldable({ postagePaidMinor, feeMinor }, houseOf(ctx.db).decimals);
  updateSale(ctx.db, before.id, { postage_paid_minor: postagePaidMinor, fee_minor: feeMinor });
  const row = saleRows(ctx.db, [needSale(ctx.db, before.id)])[0];
  if (!row) throw refused('This sale is not in the books.');
  return row;
}

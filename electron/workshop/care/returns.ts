/** A sold knife comes back: what is kept, what is credited, what money goes back, and where the knife goes. */
import type { ReturnEnd, ReturnFigures } from '../../api/care.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import { restocking, type Restocking } from '../../domain/restocking.ts';
import type { ReadDb } from '../../storage/db.ts';
import { insertBuildNote, netLeftOf } from '../../storage/queries/returns.ts';
import { moveKnife, type SaleRecord, updateSale } from '../../storage/queries/selling.ts';
import { type InvoiceRecord, invoiceRecord } from '../../storage/queries/selling-invoices.ts';
import type { CommandContext } from '../context.ts';
import { netOf } from '../costs/net.ts';
import type { HandlerFor } from '../handlers.ts';
import { textOf } from '../papers/texts.ts';
import { noteReturn } from '../releases/sold.ts';
import { prepareCreditOf } from '../selling/credit.ts';
import { needInvoice, openOf } from '../selling/invoice-rows.ts';
import { keepPaper, type PlannedPaper } from '../selling/issue.ts';
import { bookRefund } from '../selling/payments.ts';
import { notInFuture } from '../selling/sale.ts';
import { needSale } from '../selling/sale-rows.ts';
import { languageOf } from './paper-habits.ts';

/** @throws FaultError when the knife came back already */
function demandOut(sale: SaleRecord): void {
  if (sale.taken_back_on !== null)
    throw refused(`${sale.serial} came back from this sale on ${sale.taken_back_on} already.`, 'saleId');
}

const invoiceOf = (db: ReadDb, sale: SaleRecord): InvoiceRecord | undefined =>
  sale.invoice_id === null ? undefined : invoiceRecord(db, sale.invoice_id);

/** Asked and not credited before, tax in it. */
const leftOf = (sale: SaleRecord, invoice: InvoiceRecord | undefined): number =>
  invoice === undefined ? netOf(sale).totalMinor : invoice.total_minor - invoice.credited_minor;

/** @throws FaultError of the field `keptMinor` */
function partOf(sale: SaleRecord, totalMinor: number, keptMinor: number): Restocking {
  const terms = {
    priceMinor: sale.price_minor,
    ratePpm: sale.tax_rate_ppm,
    inclusive: sale.tax_inclusive === 1,
    totalMinor,
  };
  const parted = restocking(terms, keptMinor);
  if (!parted.ok) throw invalid(parted.message, 'keptMinor');
  return parted.value;
}

/** What taking a knife back would come to. */
export const returnFigures: HandlerFor<'care.returnFigures'> = (
  ctx,
  { saleId, keptMinor },
): ReturnFigures => {
  const sale = needSale(ctx.db, saleId);
  demandOut(sale);
  const invoice = invoiceOf(ctx.db, sale);
  const totalMinor = leftOf(sale, invoice);
  const parted = partOf(sale, totalMinor, keptMinor);
  const creditMinor = invoice === undefined ? 0 : parted.backMinor;
  const openMinor = invoice === undefined ? 0 : openOf(invoice);
  return {
    serial: sale.serial,
    title: sale.title === '' ? sale.model_name : sale.title,
    buyerName: sale.buyer_name,
    soldOn: sale.on_date,
    priceMinor: sale.price_minor,
    shippingMinor: sale.shipping_minor,
    taxMinor: sale.tax_minor,
    invoiceNumber: invoice?.number ?? null,
    totalMinor,
    paidMinor: invoice === undefined ? 0 : invoice.paid_minor + invoice.prepaid_minor,
    keptNetMinor: parted.keptNetMinor,
    keptTaxMinor: parted.keptTaxMinor,
    creditMinor,
    refundMinor: Math.max(0, creditMinor - openMinor),
    policy: textOf(ctx.db, 'returns', languageOf(ctx.db, null)),
  };
};

type TakeBackInput = Parsed<'care.takeBack'>;

/** Checks a return and sets the paper of its credit; writes nothing. */
export async function prepareTakeBack(
  ctx: CommandContext,
  input: TakeBackInput,
): Promise<PlannedPaper | undefined> {
  const sale = needSale(ctx.db, input.saleId);
  demandOut(sale);
  notInFuture(ctx, input.on, 'on');
  if (input.on < sale.on_date)
    throw invalid(
      `${sale.serial} was sold on ${sale.on_date} and cannot come back before. Change the day.`,
      'on',
    );
  const invoice = invoiceOf(ctx.db, sale);
  const parted = partOf(sale, leftOf(sale, invoice), input.keptMinor);
  if (invoice === undefined) {
    if (input.refundBy !== '')
      throw invalid(
        'This sale has no invoice to book money on. Leave out how it was given back.',
        'refundBy',
      );
    return undefined;
  }
  // Nothing is left to credit where the invoice was taken back part by part before.
  if (parted.backMinor === 0) return undefined;
  return prepareCreditOf(ctx, {
    invoiceId: invoice.id,
    amountMinor: parted.backMinor,
    on: input.on,
    reason: input.condition,
    kept: { netMinor: parted.keptNetMinor, taxMinor: parted.keptTaxMinor },
  });
}

const ends: Readonly<Record<ReturnEnd, (on: string, reason: string) => Parameters<typeof moveKnife>[2]>> = {
  shelf: () => ({ state: 'finished' }),
  kept: (on, reason) => ({ state: 'kept', ended_on: on, end_reason: `came back: ${reason}` }),
  scrapped: (on, reason) => ({ state: 'scrapped', ended_on: on, end_reason: `came back: ${reason}` }),
};

/** Money back, as far as more was paid than the invoice asks now. @returns how much, minor unit */
function refund(ctx: CommandContext, invoiceId: string, input: TakeBackInput): number {
  const over = Math.max(0, -openOf(needInvoice(ctx.db, invoiceId)));
  if (input.refundBy === '' || over === 0) return 0;
  const { on, condition: reason, refundBy: method } = input;
  bookRefund(ctx, { invoiceId, on, amountMinor: over, method, reason });
  return over;
}

/** Takes a knife back: the credit is kept, the sale ends, money goes back, and the knife goes where it belongs. */
export function takeBack(ctx: CommandContext, input: TakeBackInput, prepared: PlannedPaper | undefined) {
  const sale = needSale(ctx.db, input.saleId);
  demandOut(sale);
  const invoice = invoiceOf(ctx.db, sale);
  const parted = partOf(sale, leftOf(sale, invoice), input.keptMinor);
  const credit = prepared && keepPaper(ctx, prepared);
  const keptMinor = invoice === undefined ? parted.keptNetMinor : netLeftOf(ctx.db, invoice.id);
  updateSale(ctx.db, sale.id, { taken_back_on: input.on, kept_minor: keptMinor });
  moveKnife(ctx.db, sale.build_id, ends[input.knife](input.on, input.condition));
  const text = `Came back from ${sale.buyer_name} on ${input.on}: ${input.condition}`;
  insertBuildNote(ctx.db, { id: ctx.newId(), build_id: sale.build_id, at: ctx.clock.now(), text });
  noteReturn(ctx, sale.id, input.condition);
  return {
    creditId: credit?.invoiceId ?? null,
    creditNumber: credit?.number ?? null,
    refundedMinor: invoice === undefined ? 0 : refund(ctx, invoice.id, input),
  };
}

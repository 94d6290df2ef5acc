/** The invoice for a service: one line, taxed by its place, paid in the same step where said how. */
import type { ServiceFigures } from '../../api/care.ts';
import type { Parsed } from '../../api/contract.ts';
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { channelRecord } from '../../storage/queries/selling.ts';
import type { ServiceRecord } from '../../storage/queries/services.ts';
import type { CommandContext } from '../context.ts';
import { feeByRule } from '../costs/fee-words.ts';
import { netOf, type NetSale } from '../costs/net.ts';
import type { HandlerFor } from '../handlers.ts';
import { dateIn, wordsFor } from '../paper-words/index.ts';
import { needBuyer } from '../selling/buyers.ts';
import { type InvoiceSpec, planInvoiceOf } from '../selling/compose.ts';
import { keepPaper, type PlannedPaper, setPaper } from '../selling/issue.ts';
import { bookPayment } from '../selling/payments.ts';
import { oneOf } from '../selling/plan.ts';
import { taxColumns, type TaxColumns } from '../selling/reckon.ts';
import { notInFuture } from '../selling/sale.ts';
import { languageOf } from './paper-habits.ts';
import { needService, toService } from './services.ts';

function reckoned(
  db: ReadDb,
  service: ServiceRecord,
  placeId: string | null,
): { tax: TaxColumns; net: NetSale } {
  const tax = taxColumns(db, placeId, service.price_minor, 0);
  return { tax, net: netOf({ ...tax, price_minor: service.price_minor, shipping_minor: 0 }) };
}

/** What the invoice would come to. */
export const serviceFigures: HandlerFor<'care.serviceFigures'> = (ctx, input): ServiceFigures => {
  const service = needService(ctx.db, input.serviceId);
  const { tax, net } = reckoned(ctx.db, service, input.taxPlaceId);
  const channel = input.channelId === null ? undefined : channelRecord(ctx.db, input.channelId);
  const charge = { priceMinor: net.totalMinor, shippingMinor: 0, taxMinor: 0, abroad: false };
  return {
    netMinor: net.priceMinor,
    taxMinor: tax.tax_minor,
    taxLabel: tax.tax_label,
    totalMinor: net.totalMinor,
    feeMinor: channel === undefined ? 0 : feeByRule(channel, charge),
  };
};

/** @throws FaultError saying what is missing before an invoice can be issued */
function demandBillable(service: ServiceRecord): { readonly buyerId: string; readonly doneOn: string } {
  if (service.cancelled_on !== null)
    throw refused('This service was called off; there is nothing to invoice.', 'serviceId');
  if (service.invoice_number !== null)
    throw refused(`This service has its invoice already: ${service.invoice_number}.`, 'serviceId');
  if (service.price_minor === 0)
    throw refused('This service is free. Write down what is asked for it first.', 'serviceId');
  if (service.buyer_id === null)
    throw refused('Nobody is named who pays for it. Choose the person on the service first.', 'serviceId');
  if (service.done_on === null)
    throw refused('It is not done yet. Write down the day it was done first.', 'serviceId');
  return { buyerId: service.buyer_id, doneOn: service.done_on };
}

function specOf(db: ReadDb, service: ServiceRecord, placeId: string | null): InvoiceSpec {
  const { buyerId, doneOn } = demandBillable(service);
  const { tax, net } = reckoned(db, service, placeId);
  const language = languageOf(db, buyerId);
  const words = wordsFor(language).service;
  const what = {
    description: words.kinds[service.kind] ?? service.kind,
    detail: words.received(toService(service).knife, dateIn(language, service.received_on)),
  };
  return {
    kind: 'service',
    saleId: null,
    orderId: null,
    serviceId: service.id,
    buyer: needBuyer(db, buyerId),
    supplyOn: doneOn,
    tax,
    lines: [oneOf(what, net.priceMinor, { ratePpm: tax.tax_rate_ppm, category: tax.tax_category })],
    taxMinor: tax.tax_minor,
    extraNotes: [],
  };
}

/** Checks the invoice and sets its paper; writes nothing. */
export async function prepareServiceInvoice(
  ctx: CommandContext,
  input: Parsed<'care.invoiceService'>,
): Promise<PlannedPaper> {
  const service = needService(ctx.db, input.serviceId);
  notInFuture(ctx, input.issuedOn, 'issuedOn');
  const spec = specOf(ctx.db, service, input.taxPlaceId);
  const plan = planInvoiceOf(ctx.db, spec, {
    invoiceId: ctx.newId(),
    issuedOn: input.issuedOn,
    dueOn: input.dueOn,
    note: input.note,
    paidBy: input.paidBy,
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'issuedOn' },
  });
  return setPaper(ctx, plan);
}

/** Keeps the invoice, and books its payment where it was paid at once. */
export function invoiceService(
  ctx: CommandContext,
  input: Parsed<'care.invoiceService'>,
  prepared: PlannedPaper,
): { readonly invoiceId: string; readonly number: string } {
  demandBillable(needService(ctx.db, input.serviceId));
  const kept = keepPaper(ctx, prepared);
  if (input.paidBy !== '') {
    bookPayment(ctx, {
      invoiceId: kept.invoiceId,
      on: input.issuedOn,
      amountMinor: prepared.plan.row.total_minor,
      method: input.paidBy,
      channelId: input.channelId,
    });
  }
  return kept;
}

/** Invoices that are free to change until they are issued: services and whatever else is charged for. */
import { z } from 'zod';
import { missing, refused } from '../../api/errors.ts';
import type { Draft, DraftFigures, DraftLine, DraftRow } from '../../api/billing.ts';
import type { Parsed } from '../../api/contract.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type DraftRecord, draftRow, draftRows, dropDraft, putDraft } from '../../storage/queries/billing.ts';
import { sumOf } from '../../domain/integers.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { type InvoiceSpec, type IssueTerms, languageOf, planInvoiceOf } from '../selling/compose.ts';
import { needService } from '../care/services.ts';
import { needBuyer, needCustomer } from '../selling/buyers.ts';
import { keepPaper, type PlannedPaper, setPaper } from '../selling/issue.ts';
import { bookPayment } from '../selling/payments.ts';
import { priceLines } from '../selling/priced-lines.ts';
import { notInFuture } from '../selling/sale.ts';

/** Lines as the books keep them. */
const storedLines = z.array(
  z.object({
    description: z.string(),
    detail: z.string(),
    qty: z.int(),
    qtyScale: z.int(),
    unitPriceMinor: z.int(),
    taxed: z.boolean(),
  }),
);

const linesOf = (record: DraftRecord): readonly DraftLine[] => storedLines.parse(JSON.parse(record.lines));

/** @throws FaultError when the draft is gone */
export function needDraft(db: ReadDb, id: string): DraftRecord {
  const record = draftRow(db, id);
  if (!record) throw missing('This draft is not there any more: it was issued or thrown away.');
  return record;
}

/** A draft as its page shows it. */
export const draftOf = (db: ReadDb, id: string): Draft => {
  const record = needDraft(db, id);
  return {
    id: record.id,
    buyerId: record.buyer_id,
    buyerName: record.buyer_name,
    serviceId: record.service_id,
    taxPlaceId: record.tax_place_id,
    lines: linesOf(record),
    note: record.note,
    changedAt: record.changed_at,
  };
};

/** What lines would come to. */
export function draftFigures(db: ReadDb, input: Parsed<'billing.figures'>): DraftFigures {
  const { currency, shop } = houseOf(db);
  const priced = priceLines(db, input.taxPlaceId, input.lines, { currency, language: shop.language });
  const netMinor = sumOf(priced.lines, (line) => line.net_minor);
  return {
    amountsMinor: priced.amountsMinor,
    netMinor,
    taxLabel: priced.tax.tax_label,
    taxRatePpm: priced.tax.tax_rate_ppm,
    inclusive: priced.tax.tax_inclusive === 1,
    taxMinor: priced.taxMinor,
    totalMinor: netMinor + priced.taxMinor,
  };
}

/** Drafts with what they come to today. */
export const draftList = (db: ReadDb): readonly DraftRow[] =>
  draftRows(db).map((record) => {
    const lines = linesOf(record);
    return {
      id: record.id,
      buyerId: record.buyer_id,
      buyerName: record.buyer_name,
      about: lines[0]?.description ?? '',
      lines: lines.length,
      totalMinor: draftFigures(db, { taxPlaceId: record.tax_place_id, lines: [...lines] }).totalMinor,
      changedAt: record.changed_at,
    };
  });

/** @throws FaultError for a service that is invoiced already or was called off */
function demandUnbilled(db: ReadDb, serviceId: string | null): void {
  if (serviceId === null) return;
  const service = needService(db, serviceId);
  if (service.cancelled_on !== null)
    throw refused('This service was called off; there is nothing to invoice.', 'serviceId');
  if (service.invoice_number !== null)
    throw refused(`This service has its invoice already: ${service.invoice_number}.`, 'serviceId');
}

/** Enters or changes a draft. @throws FaultError for lines that cannot be invoiced */
export function saveDraft(ctx: CommandContext, input: Parsed<'billing.saveDraft'>): Draft {
  if (input.id !== undefined) needDraft(ctx.db, input.id);
  const buyer = needCustomer(ctx.db, input.buyerId);
  demandUnbilled(ctx.db, input.serviceId);
  draftFigures(ctx.db, { taxPlaceId: input.taxPlaceId, lines: input.lines });
  const id = input.id ?? ctx.newId();
  putDraft(ctx.db, {
    id,
    kind: 'service',
    buyer_id: buyer.id,
    service_id: input.serviceId,
    tax_place_id: input.taxPlaceId,
    lines: JSON.stringify(input.lines),
    note: input.note,
    changed_at: ctx.clock.now(),
  });
  return draftOf(ctx.db, id);
}

/** Throws a draft away. */
export function deleteDraft(ctx: CommandContext, { id }: Parsed<'billing.deleteDraft'>) {
  needDraft(ctx.db, id);
  dropDraft(ctx.db, id);
  return { id };
}

/** What an invoice of a draft would say. @param supplyOn local day the work was done */
export function specOfDraft(db: ReadDb, id: string, supplyOn: string): InvoiceSpec {
  const record = needDraft(db, id);
  const buyer = needBuyer(db, record.buyer_id);
  const house = houseOf(db);
  const priced = priceLines(db, record.tax_place_id, linesOf(record), {
    currency: house.currency,
    language: languageOf({ buyer }, house),
  });
  return {
    kind: 'service',
    saleId: null,
    orderId: null,
    serviceId: record.service_id,
    buyer,
    supplyOn,
    tax: priced.tax,
    lines: priced.lines,
    taxMinor: priced.taxMinor,
    extraNotes: [],
  };
}

/** Terms of a paper that is only looked at. */
export const draftTerms = (ctx: QueryContext, note?: string): IssueTerms => ({
  invoiceId: '',
  issuedOn: ctx.clock.today(),
  note,
  madeAt: ctx.clock.now(),
  fields: { issuedOn: 'id' },
});

/** The note of a draft, or the workshop's own. */
export const noteOf = (record: DraftRecord): string | undefined =>
  record.note === '' ? undefined : record.note;

/** Plans and sets the invoice of a draft; writes nothing. */
export async function prepareDraft(
  ctx: CommandContext,
  input: Parsed<'billing.issueDraft'>,
): Promise<PlannedPaper> {
  notInFuture(ctx, input.issuedOn, 'issuedOn');
  const record = needDraft(ctx.db, input.id);
  needCustomer(ctx.db, record.buyer_id);
  demandUnbilled(ctx.db, record.service_id);
  const plan = planInvoiceOf(ctx.db, specOfDraft(ctx.db, input.id, input.supplyOn ?? input.issuedOn), {
    invoiceId: ctx.newId(),
    issuedOn: input.issuedOn,
    dueOn: input.dueOn,
    note: noteOf(record),
    paidBy: input.paidBy,
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'issuedOn' },
  });
  return setPaper(ctx, plan);
}

/** Issues the invoice, and books its payment where it was paid at once; the draft goes. */
export function issueDraft(
  ctx: CommandContext,
  input: Parsed<'billing.issueDraft'>,
  prepared: PlannedPaper,
): { readonly invoiceId: string; readonly number: string } {
  const kept = keepPaper(ctx, prepared);
  const amountMinor = prepared.plan.row.total_minor;
  if (input.paidBy !== '' && amountMinor > 0) {
    const { invoiceId } = kept;
    const { issuedOn: on, paidBy: method, channelId } = input;
    bookPayment(ctx, { invoiceId, on, amountMinor, method, channelId });
  }
  dropDraft(ctx.db, input.id);
  return kept;
}

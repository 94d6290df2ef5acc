/** Invoices as lists and pages show them. */
import { missing } from '../../api/errors.ts';
import type { InvoiceDetail, InvoiceRow, Payment } from '../../api/selling.ts';
import type { ReadDb } from '../../storage/db.ts';
import { saleRecord } from '../../storage/queries/selling.ts';
import {
  type InvoiceListRecord,
  type InvoiceRecord,
  invoiceRecord,
  linesOf,
  type PaymentRecord,
  paymentsOf,
} from '../../storage/queries/selling-invoices.ts';
import type { InvoiceLinesTable } from '../../storage/schema-selling.ts';

type State = InvoiceRow['state'];
type Kind = InvoiceRow['kind'];

/** What the reckoning of what is open needs of an invoice. */
type Asking = Pick<
  InvoiceListRecord,
  'kind' | 'total_minor' | 'prepaid_minor' | 'paid_minor' | 'credited_minor' | 'credits'
>;

/** Whether credits took back the whole of it. */
export const isTakenBack = (record: Asking): boolean =>
  record.kind !== 'credit' && record.credits > 0 && record.credited_minor >= record.total_minor;

/**
 * Still to pay: total less what was prepaid, credited and paid. Below zero is money to give back.
 * A credit itself asks for nothing: it lowers what its invoice asks.
 */
export const openOf = (record: Asking): number =>
  record.kind === 'credit'
    ? 0
    : record.total_minor - record.prepaid_minor - record.credited_minor - record.paid_minor;

function stateOf(record: InvoiceListRecord, openMinor: number): State {
  if (record.kind === 'credit') return 'credit';
  if (isTakenBack(record))
    return openMinor < 0 ? 'creditedOver' : openMinor > 0 ? 'creditedOpen' : 'credited';
  if (openMinor < 0) return record.credited_minor > 0 ? 'partCreditedOver' : 'overpaid';
  if (openMinor === 0) return record.credited_minor > 0 ? 'partCredited' : 'paid';
  return record.paid_minor > 0 ? 'partPaid' : 'open';
}

const KINDS: ReadonlySet<string> = new Set<Kind>([
  'sale',
  'second',
  'deposit',
  'balance',
  'service',
  'credit',
]);
const isKind = (kind: string): kind is Kind => KINDS.has(kind);

/** The kind as the contract knows it. */
export const toKind = (kind: string): Kind => (isKind(kind) ? kind : 'sale');

/** @param today local day, for what is overdue */
export function toInvoiceRow(record: InvoiceListRecord, today: string): InvoiceRow {
  const openMinor = openOf(record);
  return {
    id: record.id,
    number: record.number,
    kind: toKind(record.kind),
    issuedOn: record.issued_on,
    dueOn: record.due_on,
    buyerId: record.buyer_id,
    buyerName: record.buyer_name,
    totalMinor: record.total_minor,
    prepaidMinor: record.prepaid_minor,
    creditedMinor: record.credited_minor,
    paidMinor: record.paid_minor,
    openMinor,
    state: stateOf(record, openMinor),
    overdue: openMinor > 0 && record.due_on < today,
    about: record.about,
  };
}

/** A payment as the contract shows it. */
export const toPayment = (record: PaymentRecord): Payment => ({
  id: record.id,
  on: record.on_date,
  amountMinor: record.amount_minor,
  method: record.method,
  reference: record.reference,
  reason: record.reason,
  feeMinor: record.fee_minor,
  reversesId: record.reverses_id,
  reversedById: record.reversed_by_id,
});

const toLine = (line: InvoiceLinesTable): InvoiceDetail['lines'][number] => ({
  description: line.description,
  detail: line.detail,
  qty: line.qty,
  qtyScale: line.qty_scale,
  unitPriceMinor: line.unit_price_minor,
  netMinor: line.net_minor,
  taxRatePpm: line.tax_rate_ppm,
});

/** @throws FaultError when the invoice is not in the books */
export function needInvoice(db: ReadDb, id: string): InvoiceRecord {
  const record = invoiceRecord(db, id);
  if (!record) throw missing('This invoice is not in the books.');
  return record;
}

/** One invoice with its lines and payments. */
export function invoiceDetail(db: ReadDb, id: string, today: string): Omit<InvoiceDetail, 'setOff'> {
  const record = needInvoice(db, id);
  const tax = {
    label: record.tax_label,
    ratePpm: record.tax_rate_ppm,
    baseMinor: record.tax_base_minor,
    taxMinor: record.tax_minor,
  };
  return {
    ...toInvoiceRow(record, today),
    saleId: record.sale_id,
    orderId: record.order_id,
    serviceId: record.service_id,
    buildId: saleRecord(db, record.sale_id ?? '')?.build_id ?? null,
    supplyOn: record.supply_on,
    currency: record.currency,
    sellerName: record.seller_name,
    sellerAddress: record.seller_address,
    buyerAddress: record.buyer_address,
    language: record.language,
    taxReason: record.tax_reason,
    note: record.note,
    lines: linesOf(db, id).map(toLine),
    netMinor: record.net_minor,
    taxes: record.tax_rate_ppm > 0 ? [tax] : [],
    taxMinor: record.tax_minor,
    payments: paymentsOf(db, id).map(toPayment),
    creditsId: record.credits_id,
    creditsNumber: record.credits_number,
    creditedById: record.credited_by_id,
    creditedByNumber: record.credited_by_number,
    sha256: record.document_sha256,
  };
}

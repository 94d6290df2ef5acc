/**
 * An invoice of any kind before it is issued: its number, its rows for the books and its paper, all from one reckoning.
 * What it is for (a sale, a deposit, a service) is decided by who writes the spec.
 */
import { invalid, refused } from '../../api/errors.ts';
import type { InvoicePaper } from '../../documents/types.ts';
import { addDays } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { InvoicesTable } from '../../storage/schema-selling.ts';
import { houseOf, type House } from '../costs/house.ts';
import { nextInvoiceNumber, numberRun, type PlannedNumber } from './number.ts';
import { wordsFor } from '../paper-words/index.ts';
import { invoicePaper } from './paper.ts';
import {
  buyerParty,
  type InvoicedBuyer,
  type NamedDeposit,
  type Particulars,
  printedAddress,
  sellerParty,
} from './particulars.ts';
import type { TaxColumns } from './reckon.ts';
import { depositRemarks, type KnifeAbout, knifeRemarks } from '../papers/remarks.ts';
import { assertTotals, totalsOf } from './totals.ts';

export type { InvoicedBuyer } from './particulars.ts';

/** What an invoice is of. */
export interface InvoiceSpec {
  readonly kind: 'sale' | 'second' | 'deposit' | 'balance' | 'service';
  readonly saleId: string | null;
  readonly orderId: string | null;
  readonly serviceId: string | null;
  readonly buyer: InvoicedBuyer;
  /** Local day; of a deposit the day it is asked. */
  readonly supplyOn: string;
  /** Copy of the place's rule. */
  readonly tax: TaxColumns;
  /** Net amounts. */
  readonly lines: readonly InvoiceLineRow[];
  readonly taxMinor: number;
  /** Earlier deposit invoices with what was paid on them: named on the paper, taken off what is asked. */
  readonly deposits?: readonly NamedDeposit[];
  readonly extraNotes: readonly string[];
  /** The knife it is about, for what goes with it on paper. */
  readonly about?: KnifeAbout;
}

export interface IssueTerms {
  readonly invoiceId: string;
  readonly issuedOn: string;
  readonly dueOn?: string | undefined;
  /** Printed under the totals; the workshop's own note unless given. */
  readonly note?: string | undefined;
  /** How the whole of it was paid in the same step; empty or left out when it was not. */
  readonly paidBy?: string | undefined;
  /** UTC ISO instant for the paper's metadata. */
  readonly madeAt: string;
  /** Input fields to name in a fault. */
  readonly fields: { readonly issuedOn: string };
  /** Numbers planned in the same command and not in the books yet. */
  readonly planned?: readonly PlannedNumber[];
}

/** All columns but those that exist only once the paper is stored. */
export type InvoiceRowDraft = Omit<InvoicesTable, 'document_path' | 'document_sha256'>;

export interface InvoicePlan {
  readonly row: InvoiceRowDraft;
  readonly lines: readonly InvoiceLineRow[];
  readonly paper: InvoicePaper;
}

function dueDay(terms: IssueTerms, house: House): string {
  const dueOn = terms.dueOn ?? addDays(terms.issuedOn, house.shop.invoice_terms_days);
  if (dueOn < terms.issuedOn)
    throw invalid('The invoice cannot be due before it is issued. Change the due date.', 'dueOn');
  return dueOn;
}

/** Language of a paper: that of its buyer, else of the workshop. */
export const languageOf = (spec: Pick<InvoiceSpec, 'buyer'>, house: House): string =>
  spec.buyer.language === '' ? house.shop.language : spec.buyer.language;

function remarksOf(db: ReadDb, spec: InvoiceSpec, language: string): InvoicePaper['remarks'] {
  if (spec.kind === 'deposit') return depositRemarks(db, language);
  return spec.about === undefined ? [] : knifeRemarks(db, language, spec.about);
}

/** Both parties of the invoice, as text to print and in parts. */
function partiesOf(db: ReadDb, spec: InvoiceSpec, house: House, settled: boolean) {
  const seller = sellerParty(house);
  const buyer = buyerParty(spec.buyer);
  const { iban, bic, bank_name: bankName } = house.shop;
  const place = spec.tax.tax_place_id === null ? undefined : taxPlaceRow(db, spec.tax.tax_place_id);
  const particulars: Particulars = {
    seller,
    buyer,
    account: { iban, bic, bankName },
    reasonCode: place?.category === spec.tax.tax_category ? place.reason_code : '',
    deposits: spec.deposits ?? [],
    notes: spec.extraNotes,
    remarks: remarksOf(db, spec, languageOf(spec, house)),
    taxPlaceId: spec.tax.tax_place_id,
    settled,
  };
  return {
    seller_name: seller.name,
    seller_address: printedAddress(seller, house.shop.country),
    seller_tax_number: seller.taxNumber,
    buyer_id: spec.buyer.id,
    buyer_name: buyer.name,
    buyer_address: printedAddress(buyer, house.shop.country),
    particulars: JSON.stringify(particulars),
  };
}

/** The day its tax counts, where that is not the day of the invoice: at delivery, if its place wants it so. */
const taxDay = (db: ReadDb, { kind, supplyOn, tax }: InvoiceSpec): string | null => {
  if (kind === 'deposit' || tax.tax_place_id === null) return null;
  return taxPlaceRow(db, tax.tax_place_id)?.deposit_tax === 'delivery' ? supplyOn : null;
};

type Unnumbered = Omit<InvoiceRowDraft, 'series' | 'series_no' | 'number'>;

/** Everything of an invoice but its number. */
function rowOf(db: ReadDb, spec: InvoiceSpec, house: House, terms: IssueTerms): Unnumbered {
  const deposits = spec.deposits ?? [];
  const totals = totalsOf(spec.lines, spec.taxMinor, spec.tax.tax_rate_ppm);
  const prepaidMinor = sumOf(deposits, (deposit) => deposit.paidMinor);
  const settled = (terms.paidBy ?? '') !== '' && totals.total_minor > prepaidMinor;
  return {
    id: terms.invoiceId,
    kind: spec.kind,
    sale_id: spec.saleId,
    order_id: spec.orderId,
    service_id: spec.serviceId,
    issued_on: terms.issuedOn,
    supply_on: spec.supplyOn,
    due_on: dueDay(terms, house),
    currency: house.currency,
    language: languageOf(spec, house),
    ...partiesOf(db, spec, house, settled),
    ...totals,
    tax_label: spec.tax.tax_label,
    tax_rate_ppm: spec.tax.tax_rate_ppm,
    tax_category: spec.tax.tax_category,
    tax_reason: spec.taxMinor === 0 ? spec.tax.tax_note : '',
    prepaid_minor: prepaidMinor,
    prepaid_tax_minor: sumOf(deposits, (deposit) => deposit.taxMinor),
    note: terms.note ?? house.shop.invoice_note,
    credits_id: null,
    tax_on: taxDay(db, spec),
  };
}

function paperOf(house: House, row: InvoiceRowDraft, spec: InvoiceSpec, terms: IssueTerms, mark?: string) {
  const draft = mark === undefined ? {} : { draftMark: mark };
  return invoicePaper(house.shop, row, spec.lines, { madeAt: terms.madeAt, ...draft });
}

/** Where the buyer accounts for the tax, the invoice says under which number (article 226, item 4). */
function demandBuyersNumber(spec: InvoiceSpec): void {
  if (!['AE', 'K'].includes(spec.tax.tax_category) || spec.buyer.tax_number !== '') return;
  throw refused(
    `With this tax place ${spec.buyer.name} accounts for the tax. Enter their tax number with the buyer first, or choose another tax place.`,
    'buyerId',
  );
}

/**
 * Plans an invoice; writes nothing. Set its paper with `setPaper` and keep both with `keepPaper`.
 * @throws FaultError when the day or the number does not fit
 */
export function planInvoiceOf(db: ReadDb, spec: InvoiceSpec, terms: IssueTerms): InvoicePlan {
  const house = houseOf(db);
  if (terms.issuedOn < spec.supplyOn) {
    throw invalid(
      `It was supplied on ${spec.supplyOn}; its invoice cannot be older. Change the date.`,
      terms.fields.issuedOn,
    );
  }
  demandBuyersNumber(spec);
  const run = numberRun(db, spec.kind, house.shop.invoice_pattern, terms.fields.issuedOn, terms.planned);
  const at = nextInvoiceNumber(db, run, terms.issuedOn);
  const row = {
    ...rowOf(db, spec, house, terms),
    series: at.series,
    series_no: at.seriesNo,
    number: at.number,
  };
  assertTotals(spec.lines, row, house.decimals);
  return { row, lines: spec.lines, paper: paperOf(house, row, spec, terms) };
}

/** The row of an invoice that is only looked at: nothing of it is in the books, and it has no number. */
export const unissuedRow = (db: ReadDb, spec: InvoiceSpec, terms: IssueTerms): InvoiceRowDraft => ({
  ...rowOf(db, spec, houseOf(db), terms),
  series: '',
  series_no: 0,
  number: '',
});

/** The same paper with a mark across it and no number. */
export function draftPaperOf(db: ReadDb, spec: InvoiceSpec, terms: IssueTerms): InvoicePaper {
  const house = houseOf(db);
  const { draft } = wordsFor(languageOf(spec, house)).page;
  return paperOf(house, unissuedRow(db, spec, terms), spec, terms, draft);
}

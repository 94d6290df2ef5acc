/** An invoice before it is issued: its number, its rows for the books and its paper, all from one reckoning. */
import type { ReadDb } from '../../storage/db.ts';
import { addDays } from '../../domain/calendar.ts';
import { countryLine } from '../../domain/country-names.ts';
import { checkTotals, type Finding } from '../../domain/invoice-check.ts';
import { invalid } from '../../api/errors.ts';
import type { InvoicePaper } from '../../documents/types.ts';
import type { BuyerRecord, KnifeForSale } from '../../storage/queries/selling.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { InvoiceLinesTable, InvoicesTable, SalesTable } from '../../storage/schema-selling.ts';
import { houseOf, type House } from '../costs/house.ts';
import { netOf } from '../costs/net.ts';
import { needBuyer } from './buyers.ts';
import { type InvoiceNumber, nextInvoiceNumber, type PlannedNumber } from './number.ts';
import { invoicePaper } from './paper.ts';
import { needKnife } from './sale.ts';

/** All columns but those that exist only once the paper is stored. */
export type InvoiceRowDraft = Omit<InvoicesTable, 'document_path' | 'document_sha256'>;

export interface InvoicePlan {
  readonly row: InvoiceRowDraft;
  readonly lines: readonly InvoiceLineRow[];
  readonly paper: InvoicePaper;
}

export interface IssueTerms {
  readonly invoiceId: string;
  readonly issuedOn: string;
  readonly dueOn?: string | undefined;
  /** Printed under the totals; the workshop's own note unless given. */
  readonly note?: string | undefined;
  /** UTC ISO instant for the paper's metadata. */
  readonly madeAt: string;
  /** Input fields to name in a fault. */
  readonly fields: { readonly issuedOn: string };
  /** Numbers planned in the same command and not in the books yet. */
  readonly planned?: readonly PlannedNumber[];
  /** Who buys, where they are not in the books yet. */
  readonly buyer?: InvoicedBuyer;
}

/** What an invoice says about its buyer. */
export type InvoicedBuyer = Pick<BuyerRecord, 'id' | 'name' | 'address' | 'country'>;

/** One of it, and the tax category left to the rate. */
const onePiece = { qty_scale: 0, unit_code: 'C62', tax_category: '' };

/** Line of the knife and, where charged, of shipping; amounts without tax. */
function saleLines(sale: SalesTable, knife: KnifeForSale): InvoiceLineRow[] {
  const net = netOf(sale);
  const title = knife.title === '' || knife.title === knife.model_name ? '' : `${knife.title}, `;
  const knifeLine = {
    description: knife.model_name,
    detail: `${title}serial ${knife.serial}`,
    qty: 1,
    unit_price_minor: net.priceMinor,
    net_minor: net.priceMinor,
    tax_rate_ppm: sale.tax_rate_ppm,
    ...onePiece,
  };
  if (net.shippingMinor === 0) return [knifeLine];
  const shipping = {
    description: 'Shipping',
    detail: '',
    qty: 1,
    unit_price_minor: net.shippingMinor,
    net_minor: net.shippingMinor,
    tax_rate_ppm: sale.tax_on_shipping === 1 ? sale.tax_rate_ppm : 0,
    ...onePiece,
  };
  return [knifeLine, shipping];
}

type Totals = Pick<InvoicesTable, 'net_minor' | 'tax_base_minor' | 'tax_minor' | 'total_minor'>;

const totalsOf = (sale: SalesTable): Totals => {
  const net = netOf(sale);
  const net_minor = net.priceMinor + net.shippingMinor;
  return {
    net_minor,
    tax_base_minor: net.taxBaseMinor,
    tax_minor: sale.tax_minor,
    total_minor: net.totalMinor,
  };
};

/** Amounts without tax that the taxed lines do not hold. */
const untaxedOf = (lines: readonly InvoiceLineRow[]): number =>
  lines.reduce((so, line) => so + (line.tax_rate_ppm === 0 ? line.net_minor : 0), 0);

/**
 * True where tax differs from rate × net by rounding alone: at most one unit a line, and one more for tax taken over
 * from another program. The standard allows less than one whole unit of currency, which is nothing at all in a
 * currency without decimals; but tax contained in a price cannot always be met by a whole net amount.
 */
const isRounding = (finding: Finding, lines: number): boolean =>
  finding.rule === 'BR-CO-17' && Math.abs(finding.expectedMinor - finding.givenMinor) <= lines + 1;

/**
 * Holds the totals against EN 16931 before they are printed. A cent between tax by line and tax on the sum is
 * allowed there; anything the standard forbids is a mistake of ours and must not reach a buyer.
 */
function assertTotals(
  lines: readonly InvoiceLineRow[],
  totals: Totals,
  ratePpm: number,
  decimals: number,
): void {
  const category = (rate: number): 'S' | 'Z' => (rate > 0 ? 'S' : 'Z');
  const untaxed = untaxedOf(lines);
  const taxed = {
    category: 'S' as const,
    ratePpm,
    taxableMinor: totals.net_minor - untaxed,
    taxMinor: totals.tax_minor,
  };
  const zero = { category: 'Z' as const, ratePpm: 0, taxableMinor: untaxed, taxMinor: 0 };
  const findings = checkTotals({
    decimals,
    lines: lines.map((line) => ({
      category: category(line.tax_rate_ppm),
      ratePpm: line.tax_rate_ppm,
      qty: { value: line.qty, scale: 0 },
      price: { value: line.unit_price_minor, scale: decimals },
      netMinor: line.net_minor,
    })),
    linesMinor: totals.net_minor,
    allowancesMinor: 0,
    chargesMinor: 0,
    exTaxMinor: totals.net_minor,
    groups: [
      ...(ratePpm > 0 ? [taxed] : []),
      ...(ratePpm === 0 || lines.some((line) => line.tax_rate_ppm === 0) ? [zero] : []),
    ],
    taxMinor: totals.tax_minor,
    incTaxMinor: totals.total_minor,
    prepaidMinor: 0,
    roundingMinor: 0,
    dueMinor: totals.total_minor,
  });
  const worst = findings.find(
    (finding) =>
      (finding.severity === 'fail' && !isRounding(finding, lines.length)) || finding.rule === 'line-net',
  );
  if (worst) throw new Error(`Invoice totals do not hold: ${worst.rule} ${worst.message}`);
}

const sellerOf = ({ shop }: House) => ({
  seller_name: shop.name,
  seller_address: shop.address,
  seller_tax_number: shop.tax_number,
});

/** The address as it is printed: the country only where it is not the workshop's own, and not twice. */
function addressOf({ address, country }: InvoicedBuyer, home: string): string {
  if (country === '' || country === home) return address;
  const last = countryLine(country);
  const written = address.split('\n').at(-1)?.trim().toUpperCase() ?? '';
  return [address, written === last ? '' : last].filter((part) => part !== '').join('\n');
}

const buyerOf = (buyer: InvoicedBuyer, { shop }: House) => ({
  buyer_id: buyer.id,
  buyer_name: buyer.name,
  buyer_address: addressOf(buyer, shop.country),
});

function dueDay(terms: IssueTerms, house: House): string {
  const dueOn = terms.dueOn ?? addDays(terms.issuedOn, house.shop.invoice_terms_days);
  if (dueOn < terms.issuedOn)
    throw invalid('The invoice cannot be due before it is issued. Change the due date.', 'dueOn');
  return dueOn;
}

/** Everything of a sale's invoice but its number. */
function saleRow(
  sale: SalesTable,
  buyer: InvoicedBuyer,
  house: House,
  terms: IssueTerms,
): Omit<InvoiceRowDraft, 'series' | 'series_no' | 'number'> {
  return {
    id: terms.invoiceId,
    kind: 'sale',
    sale_id: sale.id,
    order_id: null,
    service_id: null,
    issued_on: terms.issuedOn,
    supply_on: sale.on_date,
    due_on: dueDay(terms, house),
    currency: house.currency,
    language: 'en',
    particulars: '{}',
    tax_category: '',
    tax_reason: '',
    prepaid_minor: 0,
    prepaid_tax_minor: 0,
    ...sellerOf(house),
    ...buyerOf(buyer, house),
    ...totalsOf(sale),
    tax_label: sale.tax_label,
    tax_rate_ppm: sale.tax_rate_ppm,
    note: terms.note ?? house.shop.invoice_note,
    credits_id: null,
  };
}

const numbered = (at: InvoiceNumber) => ({ series: at.series, series_no: at.seriesNo, number: at.number });

/**
 * Plans the invoice of a sale.
 * @throws FaultError when the day or the number does not fit
 */
export function planInvoice(db: ReadDb, sale: SalesTable, terms: IssueTerms): InvoicePlan {
  const house = houseOf(db);
  if (terms.issuedOn < sale.on_date) {
    throw invalid(
      `The sale was on ${sale.on_date}; its invoice cannot be older. Change the date.`,
      terms.fields.issuedOn,
    );
  }
  const run = {
    pattern: house.shop.invoice_pattern,
    planned: terms.planned ?? [],
    field: terms.fields.issuedOn,
  };
  const at = nextInvoiceNumber(db, run, terms.issuedOn);
  const row = {
    ...saleRow(sale, terms.buyer ?? needBuyer(db, sale.buyer_id), house, terms),
    ...numbered(at),
  };
  const lines = saleLines(sale, needKnife(db, sale.build_id));
  assertTotals(lines, row, sale.tax_rate_ppm, house.decimals);
  const notes = row.tax_minor === 0 ? [sale.tax_note] : [];
  return {
    row,
    lines,
    paper: invoicePaper(house.shop, row, lines, { madeAt: terms.madeAt, extraNotes: notes }),
  };
}

/** The same paper with a mark across it and no number. */
export function planDraft(db: ReadDb, sale: SalesTable, terms: IssueTerms): InvoicePaper {
  const house = houseOf(db);
  const row = {
    ...saleRow(sale, needBuyer(db, sale.buyer_id), house, terms),
    series: '',
    series_no: 0,
    number: '',
  };
  const lines = saleLines(sale, needKnife(db, sale.build_id));
  const notes = row.tax_minor === 0 ? [sale.tax_note] : [];
  return invoicePaper(house.shop, row, lines, {
    madeAt: terms.madeAt,
    extraNotes: notes,
    draftMark: 'Draft',
  });
}

/** Plans the credit that takes back a whole invoice: same lines, negative quantities, its own number. */
export function planCredit(
  db: ReadDb,
  original: { readonly row: InvoicesTable; readonly lines: readonly InvoiceLinesTable[] },
  terms: IssueTerms & { readonly reason: string },
): InvoicePlan {
  const house = houseOf(db);
  const { document_path: _path, document_sha256: _sha, ...before } = original.row;
  const run = { pattern: house.shop.invoice_pattern, planned: [], field: terms.fields.issuedOn };
  const at = nextInvoiceNumber(db, run, terms.issuedOn);
  const lines = original.lines.map(({ invoice_id: _id, position: _position, ...line }) => ({
    ...line,
    qty: -line.qty,
    net_minor: negated(line.net_minor),
  }));
  const row: InvoiceRowDraft = {
    ...before,
    id: terms.invoiceId,
    ...numbered(at),
    kind: 'credit',
    issued_on: terms.issuedOn,
    due_on: terms.issuedOn,
    net_minor: negated(before.net_minor),
    tax_base_minor: negated(before.tax_base_minor),
    tax_minor: negated(before.tax_minor),
    total_minor: negated(before.total_minor),
    note: terms.reason,
    credits_id: before.id,
  };
  assertTotals(lines, row, row.tax_rate_ppm, house.decimals);
  const paper = invoicePaper(house.shop, row, lines, {
    madeAt: terms.madeAt,
    extraNotes: [],
    creditsNumber: before.number,
  });
  return { row, lines, paper };
}

/** Never minus zero. */
const negated = (amount: number): number => (amount === 0 ? 0 : -amount);

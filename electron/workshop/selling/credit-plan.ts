/** Credits: the whole of an invoice mirrored line by line, or a part of it as one sum. */
import { mulDiv, sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { InvoiceLineRow } from '../../storage/queries/selling-invoices.ts';
import type { InvoiceLinesTable, InvoicesTable } from '../../storage/schema-selling.ts';
import { houseOf } from '../costs/house.ts';
import { wordsFor } from '../paper-words/index.ts';
import type { InvoicePlan, InvoiceRowDraft, IssueTerms } from './compose.ts';
import { nextInvoiceNumber, numberRun } from './number.ts';
import { invoicePaper } from './paper.ts';
import { assertTotals, totalsOf } from './totals.ts';

export interface Credited {
  readonly row: InvoicesTable;
  readonly lines: readonly InvoiceLinesTable[];
  /** Sum of the credits on it so far, as a positive amount. */
  readonly creditedMinor: number;
  /** Of them the tax, and what was credited of lines without any. */
  readonly creditedTaxMinor: number;
  readonly creditedUntaxedMinor: number;
}

/** What stays with the seller of a sale that is taken back whole: restocking. */
export interface KeptPart {
  readonly netMinor: number;
  readonly taxMinor: number;
}

/** Never minus zero. */
const negated = (amount: number): number => (amount === 0 ? 0 : -amount);

const mirrored = (lines: readonly InvoiceLinesTable[]): InvoiceLineRow[] =>
  lines.map(({ invoice_id: _id, position: _position, ...line }) => ({
    ...line,
    qty: -line.qty,
    net_minor: negated(line.net_minor),
  }));

/**
 * Tax and untaxed net in the first so many minor units of an invoice's total. Parts are differences of these, so that
 * all parts of an invoice add up to its own tax, to the cent.
 */
function upTo({ row, lines }: Credited, grossMinor: number): { taxMinor: number; untaxedMinor: number } {
  const untaxed = sumOf(lines, (line) => (line.tax_rate_ppm === 0 ? line.net_minor : 0));
  return {
    taxMinor: mulDiv(row.tax_minor, grossMinor, row.total_minor),
    untaxedMinor: mulDiv(untaxed, grossMinor, row.total_minor),
  };
}

/** Tax and untaxed net in the next so many minor units. */
function shareOf(original: Credited, grossMinor: number): { taxMinor: number; untaxedMinor: number } {
  const { row, lines, creditedMinor, creditedTaxMinor, creditedUntaxedMinor } = original;
  const before = upTo(original, creditedMinor);
  if (before.taxMinor === creditedTaxMinor && before.untaxedMinor === creditedUntaxedMinor) {
    const after = upTo(original, creditedMinor + grossMinor);
    return {
      taxMinor: after.taxMinor - before.taxMinor,
      untaxedMinor: after.untaxedMinor - before.untaxedMinor,
    };
  }
  // A return that kept a part took tax and shipping otherwise; what is left is shared as it stands.
  const leftMinor = row.total_minor - creditedMinor;
  const untaxed = sumOf(lines, (line) => (line.tax_rate_ppm === 0 ? line.net_minor : 0));
  return {
    taxMinor: mulDiv(row.tax_minor - creditedTaxMinor, grossMinor, leftMinor),
    untaxedMinor: mulDiv(untaxed - creditedUntaxedMinor, grossMinor, leftMinor),
  };
}

/** One line for the taxed part and one for the rest, as far as there is any. */
function partLines(original: Credited, grossMinor: number): { lines: InvoiceLineRow[]; taxMinor: number } {
  const { taxMinor, untaxedMinor } = shareOf(original, grossMinor);
  const line = (netMinor: number, ratePpm: number, category: string): InvoiceLineRow => ({
    description: wordsFor(original.row.language).invoice.lines.partOf(original.row.number),
    detail: '',
    qty: -1,
    qty_scale: 0,
    unit_code: 'C62',
    unit_price_minor: netMinor,
    net_minor: negated(netMinor),
    tax_rate_ppm: ratePpm,
    tax_category: category,
  });
  const { row, lines } = original;
  const plain = lines.find((one) => one.tax_rate_ppm === 0)?.tax_category ?? '';
  const parts = [
    line(grossMinor - taxMinor - untaxedMinor, row.tax_rate_ppm, row.tax_category),
    line(untaxedMinor, 0, plain),
  ].filter((part) => part.net_minor !== 0);
  return { lines: parts.length > 0 ? parts : [line(0, row.tax_rate_ppm, row.tax_category)], taxMinor };
}

/** The whole invoice mirrored, and what is kept of it as a line of its own. */
function keptLines({ row, lines }: Credited, kept: KeptPart): { lines: InvoiceLineRow[]; taxMinor: number } {
  const line: InvoiceLineRow = {
    description: wordsFor(row.language).invoice.lines.restocking,
    detail: '',
    qty: 1,
    qty_scale: 0,
    unit_code: 'C62',
    unit_price_minor: kept.netMinor,
    net_minor: kept.netMinor,
    tax_rate_ppm: row.tax_rate_ppm,
    tax_category: row.tax_category,
  };
  return { lines: [...mirrored(lines), line], taxMinor: row.tax_minor - kept.taxMinor };
}

/** What a credit says: all of an untouched invoice line by line, less what is kept of it; else a part as one sum. */
function partOf(original: Credited, grossMinor: number, kept: KeptPart | undefined) {
  const { row, lines } = original;
  if (original.creditedMinor > 0) return partLines(original, grossMinor);
  if (kept !== undefined && kept.netMinor > 0) return keptLines(original, kept);
  return grossMinor === row.total_minor
    ? { lines: mirrored(lines), taxMinor: row.tax_minor }
    : partLines(original, grossMinor);
}

/**
 * Plans a credit with a number of its own; writes nothing.
 * @param grossMinor of the total, tax included; the whole of an untouched invoice mirrors its lines
 */
export function planCredit(
  db: ReadDb,
  original: Credited,
  grossMinor: number,
  terms: IssueTerms & { readonly reason: string; readonly kept?: KeptPart | undefined },
): InvoicePlan {
  const house = houseOf(db);
  const { document_path: _path, document_sha256: _sha, ...before } = original.row;
  const run = numberRun(db, 'credit', house.shop.invoice_pattern, terms.fields.issuedOn, terms.planned);
  const at = nextInvoiceNumber(db, run, terms.issuedOn);
  const part = partOf(original, grossMinor, terms.kept);
  const row: InvoiceRowDraft = {
    ...before,
    id: terms.invoiceId,
    series: at.series,
    series_no: at.seriesNo,
    number: at.number,
    kind: 'credit',
    issued_on: terms.issuedOn,
    due_on: terms.issuedOn,
    ...totalsOf(part.lines, negated(part.taxMinor), before.tax_rate_ppm),
    prepaid_minor: 0,
    prepaid_tax_minor: 0,
    note: terms.reason,
    credits_id: before.id,
    // What a credit gives back counts on its own day.
    tax_on: null,
  };
  assertTotals(part.lines, row, house.decimals, Math.max(part.lines.length, original.lines.length));
  const paper = invoicePaper(house.shop, row, part.lines, {
    madeAt: terms.madeAt,
    creditsNumber: before.number,
    partly: grossMinor !== before.total_minor,
  });
  return { row, lines: part.lines, paper };
}

/** Turns re-keyed figures of published example invoices into what the domain takes. */
import { Decimal } from 'decimal.js';
import type { GivenInvoice, GivenLine } from '../../electron/domain/invoice-check.ts';
import { scaled } from '../../electron/domain/invoice-totals.ts';
import type {
  DocumentAmount,
  InvoiceInput,
  InvoiceTotals,
  VatCategory,
  VatGroup,
  VatKey,
} from '../../electron/domain/invoice-totals.ts';
import { cents } from '../domain/figures.ts';

export interface FixtureLine {
  readonly qty: string;
  readonly price: string;
  /** Base quantity of the price. */
  readonly per?: string;
  /** Signed charges (+) and allowances (−) of the line. */
  readonly adj?: readonly string[];
  readonly net: string;
  readonly vat: string;
}

export interface Fixture {
  readonly id: string;
  readonly path: string;
  readonly lines: readonly FixtureLine[];
  readonly docAdj?: readonly { readonly amt: string; readonly vat: string }[];
  readonly expect: {
    readonly lineNet: string;
    readonly allow?: string;
    readonly charge?: string;
    readonly exVat: string;
    readonly incVat: string;
    readonly paid?: string;
    readonly rounding?: string;
    readonly due: string;
    readonly vat: string;
    readonly breakdown: readonly string[];
  };
}

/** `S 19.00` or `O`. */
const vatKey = (text: string): VatKey => {
  const [category = '', percent = '0'] = text.split(' ');
  return { category: category as VatCategory, ratePpm: new Decimal(percent).times(10_000).toNumber() };
};

/** `S 6: 183.23 -> 10.99` */
const vatGroup = (text: string): VatGroup => {
  const [key = '', amounts = ''] = text.split(': ');
  const [base = '0', tax = '0'] = amounts.split(' -> ');
  return { ...vatKey(key), taxableMinor: cents(base), taxMinor: cents(tax) };
};

const ofSign = (amounts: readonly string[], sign: '+' | '-'): number[] =>
  amounts.filter((amount) => amount.startsWith(sign)).map((amount) => Math.abs(cents(amount)));

const toLine = (line: FixtureLine): GivenLine => ({
  qty: scaled(line.qty),
  price: scaled(line.price),
  ...(line.per === undefined ? {} : { baseQty: scaled(line.per) }),
  chargesMinor: ofSign(line.adj ?? [], '+'),
  allowancesMinor: ofSign(line.adj ?? [], '-'),
  netMinor: cents(line.net),
  ...vatKey(line.vat),
});

const docAmounts = (fixture: Fixture, sign: '+' | '-'): DocumentAmount[] =>
  (fixture.docAdj ?? [])
    .filter((part) => part.amt.startsWith(sign))
    .map((part) => ({ amountMinor: Math.abs(cents(part.amt)), ...vatKey(part.vat) }));

/** What the totals are worked out from. */
export const inputOf = (fixture: Fixture): InvoiceInput => ({
  decimals: 2,
  lines: fixture.lines.map(toLine),
  allowances: docAmounts(fixture, '-'),
  charges: docAmounts(fixture, '+'),
  prepaidMinor: cents(fixture.expect.paid ?? 0),
  roundingMinor: cents(fixture.expect.rounding ?? 0),
});

/** The totals as printed. */
export const totalsOf = (fixture: Fixture): InvoiceTotals => ({
  lineNetMinor: fixture.lines.map((line) => cents(line.net)),
  linesMinor: cents(fixture.expect.lineNet),
  allowancesMinor: cents(fixture.expect.allow ?? 0),
  chargesMinor: cents(fixture.expect.charge ?? 0),
  exTaxMinor: cents(fixture.expect.exVat),
  groups: fixture.expect.breakdown.map(vatGroup),
  taxMinor: cents(fixture.expect.vat),
  incTaxMinor: cents(fixture.expect.incVat),
  prepaidMinor: cents(fixture.expect.paid ?? 0),
  roundingMinor: cents(fixture.expect.rounding ?? 0),
  dueMinor: cents(fixture.expect.due),
});

/** The whole invoice as printed. */
export const givenOf = (fixture: Fixture): GivenInvoice => {
  const { lineNetMinor: _, ...totals } = totalsOf(fixture);
  return {
    ...totals,
    decimals: 2,
    lines: fixture.lines.map(toLine),
    allowances: docAmounts(fixture, '-'),
    charges: docAmounts(fixture, '+'),
  };
};

/**
 * Totals of an invoice after EN 16931. Names of rules (BR-CO-10 …) are those of the standard's published rule set;
 * BT numbers are its business terms. Amounts are whole minor units; parts of a line are rounded separately, and sums of
 * rounded amounts are not rounded again.
 */
import { roundHalfAwayBig, sum, sumOf, toSafe } from './integers.ts';
import { fromDecimal } from './rational.ts';
import { PPM } from './tax.ts';

/** A decimal as a whole number of `10^-scale`: unit prices may be finer than the minor unit. */
export interface Scaled {
  readonly value: number;
  readonly scale: number;
}

/** Reads a plain decimal, e.g. `0.1212`. @throws RangeError when it is not one */
export const scaled = (text: string): Scaled => {
  const scale = text.split('.')[1]?.length ?? 0;
  const read = fromDecimal(text);
  if (read === undefined) throw new RangeError(`Not a plain decimal: ${text}`);
  return { value: toSafe((read.n * 10n ** BigInt(scale)) / read.d), scale };
};

/** VAT category codes used by the standard (UNCL 5305 subset): S standard, Z zero, E exempt, AE reverse charge, O outside scope … */
export type VatCategory = 'S' | 'Z' | 'E' | 'AE' | 'O' | 'K' | 'G' | 'L' | 'M' | 'B';

/** Category and rate an amount belongs to. */
export interface VatKey {
  readonly category: VatCategory;
  readonly ratePpm: number;
}

export interface InvoiceLine extends VatKey {
  readonly qty: Scaled;
  readonly price: Scaled;
  /** The quantity the price is for; 1 unless given (BT-149). */
  readonly baseQty?: Scaled;
  readonly chargesMinor?: readonly number[];
  readonly allowancesMinor?: readonly number[];
}

export interface DocumentAmount extends VatKey {
  readonly amountMinor: number;
}

export interface InvoiceInput {
  /** Decimals of the currency. */
  readonly decimals: number;
  readonly lines: readonly InvoiceLine[];
  readonly allowances?: readonly DocumentAmount[];
  readonly charges?: readonly DocumentAmount[];
  /** Already paid (BT-113). */
  readonly prepaidMinor?: number;
  /** Payable rounding (BT-114). */
  readonly roundingMinor?: number;
}

export interface VatGroup extends VatKey {
  /** BT-116 */
  readonly taxableMinor: number;
  /** BT-117 */
  readonly taxMinor: number;
}

export interface InvoiceTotals {
  /** BT-131 of each line. */
  readonly lineNetMinor: readonly number[];
  /** BT-106 */
  readonly linesMinor: number;
  /** BT-107 */
  readonly allowancesMinor: number;
  /** BT-108 */
  readonly chargesMinor: number;
  /** BT-109 */
  readonly exTaxMinor: number;
  readonly groups: readonly VatGroup[];
  /** BT-110 */
  readonly taxMinor: number;
  /** BT-112 */
  readonly incTaxMinor: number;
  /** BT-113 */
  readonly prepaidMinor: number;
  /** BT-114 */
  readonly roundingMinor: number;
  /** BT-115 */
  readonly dueMinor: number;
}

const ONE: Scaled = { value: 1, scale: 0 };

/** Price ÷ base quantity × quantity, rounded once to the minor unit. @throws RangeError for a base quantity of zero */
export const priceTimesQty = (line: InvoiceLine, decimals: number): number => {
  const base = line.baseQty ?? ONE;
  const top = BigInt(line.price.value) * BigInt(line.qty.value) * 10n ** BigInt(base.scale + decimals);
  const bottom = BigInt(base.value) * 10n ** BigInt(line.price.scale + line.qty.scale);
  return toSafe(roundHalfAwayBig(top, bottom));
};

/** Line net (BT-131): price part plus charges less allowances, each already rounded. */
export const lineNet = (line: InvoiceLine, decimals: number): number =>
  priceTimesQty(line, decimals) + sum(line.chargesMinor ?? []) - sum(line.allowancesMinor ?? []);

/** VAT on a taxable amount (BR-CO-17), half away from zero. */
export const vatOn = (taxableMinor: number, ratePpm: number): number =>
  toSafe(roundHalfAwayBig(BigInt(taxableMinor) * BigInt(ratePpm), BigInt(PPM)));

const keyOf = (part: VatKey): string => `${part.category} ${String(part.ratePpm)}`;

/** Adds signed amounts by category and rate, in the order they first appear (BR-S-08 and its sisters). */
export const vatGroups = (parts: readonly DocumentAmount[]): VatGroup[] => {
  const groups = new Map<string, { key: VatKey; taxableMinor: number }>();
  for (const part of parts) {
    const group = groups.get(keyOf(part)) ?? {
      key: { category: part.category, ratePpm: part.ratePpm },
      taxableMinor: 0,
    };
    groups.set(keyOf(part), { key: group.key, taxableMinor: group.taxableMinor + part.amountMinor });
  }
  return [...groups.values()].map(({ key, taxableMinor }) => ({
    ...key,
    taxableMinor,
    taxMinor: vatOn(taxableMinor, key.ratePpm),
  }));
};

const vatParts = (input: InvoiceInput, nets: readonly number[]): DocumentAmount[] => [
  ...input.lines.map((line, at) => ({
    category: line.category,
    ratePpm: line.ratePpm,
    amountMinor: nets[at] ?? 0,
  })),
  ...(input.charges ?? []),
  ...(input.allowances ?? []).map((part) => ({ ...part, amountMinor: -part.amountMinor })),
];

/** Works out all totals of an invoice. */
export const invoiceTotals = (input: InvoiceInput): InvoiceTotals => {
  const lineNetMinor = input.lines.map((line) => lineNet(line, input.decimals));
  const linesMinor = sum(lineNetMinor);
  const allowancesMinor = sumOf(input.allowances ?? [], (part) => part.amountMinor);
  const chargesMinor = sumOf(input.charges ?? [], (part) => part.amountMinor);
  const exTaxMinor = linesMinor - allowancesMinor + chargesMinor;
  const groups = vatGroups(vatParts(input, lineNetMinor));
  const taxMinor = sumOf(groups, (group) => group.taxMinor);
  const incTaxMinor = exTaxMinor + taxMinor;
  const prepaidMinor = input.prepaidMinor ?? 0;
  const roundingMinor = input.roundingMinor ?? 0;
  const dueMinor = incTaxMinor - prepaidMinor + roundingMinor;
  return {
    lineNetMinor,
    linesMinor,
    allowancesMinor,
    chargesMinor,
    exTaxMinor,
    groups,
    taxMinor,
    incTaxMinor,
    prepaidMinor,
    roundingMinor,
    dueMinor,
  };
};

/**
 * Sales tax on a sale. Rounding is half away from zero to the minor unit, which is what the Streamlined Sales and Use
 * Tax Agreement, section 324, asks for (third decimal above four rounds up), by line or by invoice at the seller's choice.
 */
import { mulDiv, sumOf } from './integers.ts';

/** One million parts: the whole. */
export const PPM = 1_000_000;

export interface TaxRule {
  /** Parts per million: 6.5 % is 65 000. */
  readonly ratePpm: number;
  readonly onPrice: boolean;
  readonly onShipping: boolean;
  readonly rounding: 'invoice' | 'line';
  /** Prices already contain the tax. */
  readonly inclusive: boolean;
}

export interface TaxableLine {
  readonly kind: 'price' | 'shipping';
  /** As priced: without tax, or with it where the rule says inclusive. */
  readonly amountMinor: number;
}

export interface TaxResult {
  /** Sum of the lines without tax. */
  readonly netMinor: number;
  /** The part of `netMinor` that the tax is on. */
  readonly taxableMinor: number;
  readonly taxMinor: number;
  readonly grossMinor: number;
  /** Tax of each line where tax is rounded by line; absent where it is rounded once. */
  readonly lineTaxMinor?: readonly number[];
}

/** Tax on one amount, rounded once. For an inclusive rule it is the tax contained in the amount. */
export const taxOn = (amountMinor: number, ratePpm: number, inclusive: boolean): number =>
  mulDiv(amountMinor, ratePpm, inclusive ? PPM + ratePpm : PPM);

const taxed = (rule: TaxRule, line: TaxableLine): boolean =>
  line.kind === 'price' ? rule.onPrice : rule.onShipping;

/** Works out the tax of an invoice. */
export const computeTax = (rule: TaxRule, lines: readonly TaxableLine[]): TaxResult => {
  const base = sumOf(lines, (line) => (taxed(rule, line) ? line.amountMinor : 0));
  const perLine = lines.map((line) =>
    taxed(rule, line) ? taxOn(line.amountMinor, rule.ratePpm, rule.inclusive) : 0,
  );
  const taxMinor =
    rule.rounding === 'line' ? sumOf(perLine, (tax) => tax) : taxOn(base, rule.ratePpm, rule.inclusive);
  const priced = sumOf(lines, (line) => line.amountMinor);
  const inside = rule.inclusive ? taxMinor : 0;
  return {
    netMinor: priced - inside,
    taxableMinor: base - inside,
    taxMinor,
    grossMinor: priced - inside + taxMinor,
    ...(rule.rounding === 'line' ? { lineTaxMinor: perLine } : {}),
  };
};

/** What stays with the maker when a knife comes back, and what goes to the buyer. */
import { ok, type Outcome, refuse } from './outcome.ts';
import { taxOn } from './tax.ts';

/** The sale that is undone, minor unit. */
export interface ReturnedSale {
  /** As the place counts it: with tax in it where `inclusive`. */
  readonly priceMinor: number;
  readonly ratePpm: number;
  readonly inclusive: boolean;
  /** All that was asked: price, shipping and tax, less what was credited before. */
  readonly totalMinor: number;
}

export interface Restocking {
  /** Kept without tax. */
  readonly keptNetMinor: number;
  readonly keptTaxMinor: number;
  /** To credit, tax in it: with what is kept it adds up to the total. */
  readonly backMinor: number;
}

/**
 * Parts what a sale asked into what is kept and what goes back. Tax stays on what is kept, as it was on the price.
 * @param keptMinor in the price's own terms: with tax in it where the place counts so
 * Refuses more than the price, and what would leave nothing to give back.
 */
export function restocking(sale: ReturnedSale, keptMinor: number): Outcome<Restocking> {
  if (keptMinor > sale.priceMinor)
    return refuse('More would be kept than the knife cost. Keep the price at most.');
  const keptTaxMinor = taxOn(keptMinor, sale.ratePpm, sale.inclusive);
  const keptNetMinor = sale.inclusive ? keptMinor - keptTaxMinor : keptMinor;
  const backMinor = sale.totalMinor - keptNetMinor - keptTaxMinor;
  if (keptMinor > 0 && backMinor <= 0)
    return refuse('Nothing would go back to the buyer. Keep less, or leave the sale as it is.');
  return ok({ keptNetMinor, keptTaxMinor, backMinor });
}

/**
 * The tax in what was kept, told from what was kept without tax: the inverse of `restocking`. Where prices hold the tax,
 * two sums may leave the same net; the lower one is taken.
 */
export function keptTax(
  keptNetMinor: number,
  { ratePpm, inclusive }: Pick<ReturnedSale, 'ratePpm' | 'inclusive'>,
): number {
  const about = taxOn(keptNetMinor, ratePpm, false);
  if (!inclusive) return about;
  const found = [about - 1, about, about + 1].find(
    (taxMinor) => taxOn(keptNetMinor + taxMinor, ratePpm, true) === taxMinor,
  );
  return found ?? about;
}

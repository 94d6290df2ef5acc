/** Weights of work on the bench, in words: on the screen, on paper and in what is refused. */
import { formatQuantity, toBase } from './quantity.ts';
import { decimalText, trimZeros } from './rational.ts';

const OUNCE = toBase(1, 'oz');
const TENTH_OF_GRAM = toBase(1, 'g') / 10;

/**
 * Less than a milligram is a slip of the pen or of the unit: no scale of a workshop shows it, and a price for each
 * kilogram made of it says nothing. Common practice, no source. Nanograms.
 */
export const LEAST_WEIGHED = TENTH_OF_GRAM / 100;

/**
 * `1,240 g`, or `43.74 oz (1,240 g)` for somebody who weighs in ounces, as what comes out is often kept in grams. What is
 * less than a tenth of a gram is written to its last digit.
 * @param ng nanograms, zero or more
 */
export function weighedText(ng: number, ounces: boolean): string {
  if (ng < TENTH_OF_GRAM && ng !== 0) return `${trimZeros(decimalText(ng, 9))} g`;
  const grams = formatQuantity(Math.round(ng / TENTH_OF_GRAM) * TENTH_OF_GRAM, 'weight', 'g');
  return ounces ? `${(ng / OUNCE).toFixed(2)} oz (${grams})` : grams;
}

/**
 * Weights from dimensions. Lengths are nanometres, weights nanograms; a density is an exact number of nanograms per
 * cubic nanometre, whatever table or handbook convention it comes from.
 */
import { fromDecimal, over, rational, times, toInteger } from './rational.ts';
import type { Rational } from './rational.ts';

/** Nanograms per cubic nanometre. */
export type Density = Rational;

/** One inch, one pound and one ounce in base units. */
const INCH = 25_400_000n;
const POUND = 453_592_370_000n;

/** From kilograms per cubic metre, which is the same figure as milligrams per cubic centimetre. */
export const densityFromMetric = (kgPerM3: number): Density => rational(BigInt(kgPerM3), 10n ** 15n);

/** From pounds per cubic inch as printed, e.g. `0.2833`. @throws RangeError when the text is not a plain decimal */
export const densityFromPounds = (lbPerIn3: string): Density => {
  const read = fromDecimal(lbPerIn3);
  if (read === undefined) throw new RangeError(`Not a plain decimal: ${lbPerIn3}`);
  return times(read, rational(POUND, INCH ** 3n));
};

/**
 * Steel by the rolling-mill handbook rule: thickness × width in inches × 3.40 gives pounds per foot.
 * Source: the rule as printed on general reference pages; 489.6 lb per cubic foot.
 */
export const HANDBOOK_STEEL: Density = times(rational(340, 100), rational(POUND, 12n * INCH ** 3n));

/** Carbon steel at 7.85 g/cm³ (EN 1991-1-1: 78.5 kN/m³, upper value). */
export const STEEL_785: Density = densityFromMetric(7850);

/** Weight of a flat bar, strip, plate or pair of scales taken together. */
export const flatMass = (thickness: number, width: number, length: number, density: Density): number =>
  toInteger(times(rational(BigInt(thickness) * BigInt(width) * BigInt(length)), density));

/** Pi to 15 decimals: far finer than any bar is rolled. */
const PI = rational(3_141_592_653_589_793n, 10n ** 15n);

/** Weight of a round bar or rod. */
export const roundMass = (diameter: number, length: number, density: Density): number => {
  const area = over(times(PI, rational(BigInt(diameter) ** 2n)), rational(4));
  return toInteger(times(times(area, rational(BigInt(length))), density));
};

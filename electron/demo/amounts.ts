/** Amounts as the tables write them, turned into the base units of the books without a binary fraction in between. */
import { fromDecimal, rational, times, toInteger, toScaled, type Rational } from '../domain/rational.ts';
import { unitOf, type UnitCode } from '../domain/units.ts';

const exact = (text: string): Rational => {
  const value = fromDecimal(text);
  if (value === undefined) throw new RangeError(`Not a plain decimal: ${text}`);
  return value;
};

/** Money such as `9.80` in millionths of the currency unit. */
export const micro = (text: string): number => toScaled(exact(text), 6);

/** Money such as `9.80` in cents. */
export const cents = (text: string): number => toScaled(exact(text), 2);

/** So many times an amount of money, in millionths of the currency unit. */
export const microTimes = (times_: number, text: string): number =>
  toScaled(times(rational(times_), exact(text)), 6);

/** A quantity such as `0.15` of a unit in its base unit. */
export const amount = (text: string, unit: UnitCode): number =>
  toInteger(times(exact(text), unitOf(unit).factor));

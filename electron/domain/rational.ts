/** Exact fractions of whole numbers, for unit factors and typed decimals. */
import { roundHalfAwayBig, toSafe } from './integers.ts';

/** `n / d` with `d` above zero. */
export interface Rational {
  readonly n: bigint;
  readonly d: bigint;
}

/** Builds a fraction. @throws RangeError for a zero denominator */
export const rational = (n: number | bigint, d: number | bigint = 1n): Rational => {
  const bottom = BigInt(d);
  if (bottom === 0n) throw new RangeError('Division by zero');
  return bottom < 0n ? { n: -BigInt(n), d: -bottom } : { n: BigInt(n), d: bottom };
};

/** Sum, exact. */
export const plus = (a: Rational, b: Rational): Rational => rational(a.n * b.d + b.n * a.d, a.d * b.d);
/** Difference, exact. */
export const minus = (a: Rational, b: Rational): Rational => rational(a.n * b.d - b.n * a.d, a.d * b.d);
/** Product, exact. */
export const times = (a: Rational, b: Rational): Rational => rational(a.n * b.n, a.d * b.d);
/** Quotient, exact. @throws RangeError when `b` is zero */
export const over = (a: Rational, b: Rational): Rational => rational(a.n * b.d, a.d * b.n);

/** Negative, zero or positive as `a` is below, equal to or above `b`. */
export const compare = (a: Rational, b: Rational): number => {
  const difference = a.n * b.d - b.n * a.d;
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
};

/** Nearest whole number, halves away from zero. */
export const toInteger = (value: Rational): number => toSafe(roundHalfAwayBig(value.n, value.d));

/** The fraction as a whole number of `10^-scale` units, rounded half away from zero. */
export const toScaled = (value: Rational, scale: number): number =>
  toSafe(roundHalfAwayBig(value.n * 10n ** BigInt(scale), value.d));

/** A plain decimal such as `-0.1212` as a fraction; undefined when the text is not one. */
export const fromDecimal = (text: string): Rational | undefined => {
  const match = /^(-?)(\d+)(?:\.(\d+))?$/.exec(text);
  if (match === null) return undefined;
  const [, sign = '', whole = '0', part = ''] = match;
  return rational(BigInt(`${sign}${whole}${part}`), 10n ** BigInt(part.length));
};

/** Writes a whole number of `10^-scale` units as a plain decimal, e.g. `(1205, 2)` as `12.05`. */
export const decimalText = (value: number, scale: number): string => {
  const digits = String(Math.abs(value)).padStart(scale + 1, '0');
  const cut = digits.length - scale;
  const body = scale === 0 ? digits : `${digits.slice(0, cut)}.${digits.slice(cut)}`;
  return value < 0 ? `-${body}` : body;
};

/** Drops zeros at the end of a plain decimal: `7.750` becomes `7.75`, `4.00` becomes `4`. */
export const trimZeros = (text: string): string =>
  text.includes('.') ? text.replace(/0+$/, '').replace(/\.$/, '') : text;

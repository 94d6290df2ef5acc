/** Whole-number arithmetic that never loses a unit: products go through BigInt, rounding is half away from zero. */

const SAFE = BigInt(Number.MAX_SAFE_INTEGER);

/** A figure beyond 2^53. It comes of mistyped amounts or quantities, so whoever catches it can say that. */
export class TooLarge extends RangeError {}

/** Turns a BigInt back into a number. @throws TooLarge beyond 2^53: such a figure is a mistake, not a workshop's. */
export const toSafe = (value: bigint): number => {
  if (value > SAFE || value < -SAFE) throw new TooLarge(`Whole number out of range: ${value.toString()}`);
  return Number(value);
};

/** Divides two big whole numbers, rounding half away from zero. @throws RangeError when `d` is zero */
export const roundHalfAwayBig = (n: bigint, d: bigint): bigint => {
  if (d === 0n) throw new RangeError('Division by zero');
  const negative = n < 0n !== d < 0n;
  const top = n < 0n ? -n : n;
  const bottom = d < 0n ? -d : d;
  const rounded = (2n * top + bottom) / (2n * bottom);
  return negative ? -rounded : rounded;
};

/** Divides two whole numbers, rounding half away from zero. */
export const roundHalfAway = (n: number, d: number): number => toSafe(roundHalfAwayBig(BigInt(n), BigInt(d)));

/** `a * b / c` of whole numbers without overflow, rounded half away from zero once. */
export const mulDiv = (a: number, b: number, c: number): number =>
  toSafe(roundHalfAwayBig(BigInt(a) * BigInt(b), BigInt(c)));

/** Adds whole numbers. @throws TooLarge when the sum leaves 2^53 */
export const sum = (values: readonly number[]): number => {
  const total = values.reduce((so, value) => so + value, 0);
  if (!Number.isSafeInteger(total)) throw new TooLarge(`Sum out of range: ${String(total)}`);
  return total;
};

/** Adds one whole-number figure of every row. */
export const sumOf = <T>(rows: readonly T[], pick: (row: T) => number): number => sum(rows.map(pick));

/** Shares with the largest remainder first; equal remainders go to the earlier row, so the answer never wobbles. */
const byRemainder = (a: readonly [number, bigint], b: readonly [number, bigint]): number =>
  a[1] === b[1] ? a[0] - b[0] : a[1] > b[1] ? -1 : 1;

/**
 * Splits a whole total by weights so that the parts add up to it exactly (largest remainder).
 * All weights zero means equal parts. A negative total is the mirror image of the positive one.
 * @throws RangeError for no weights with a total to share, or for a negative weight
 */
export const allocate = (total: number, weights: readonly number[]): number[] => {
  if (weights.length === 0 && total !== 0) throw new RangeError('Nothing to share among');
  if (weights.some((weight) => weight < 0)) throw new RangeError('A share cannot have a negative weight');
  if (total < 0) return allocate(-total, weights).map((part) => (part === 0 ? 0 : -part));
  const given = weights.map(BigInt);
  const usable = given.every((weight) => weight === 0n) ? given.map(() => 1n) : given;
  const whole = usable.reduce((so, weight) => so + weight, 0n);
  const products = usable.map((weight) => BigInt(total) * weight);
  const parts = products.map((product) => product / whole);
  let left = BigInt(total) - parts.reduce((so, part) => so + part, 0n);
  const order = products.map((product, at): [number, bigint] => [at, product % whole]).sort(byRemainder);
  for (const [at] of order) {
    if (left === 0n) break;
    parts[at] = (parts[at] ?? 0n) + 1n;
    left -= 1n;
  }
  return parts.map(toSafe);
};

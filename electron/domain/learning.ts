/**
 * How work gets quicker with practice. Two laws are in use and must not be mixed:
 * the unit law (J. R. Crawford), where the n-th knife takes a·n^b, and the cumulative-average law (T. P. Wright, 1936),
 * where the mean of the first n takes a·n^b. In both b = log2(rate): at a rate of 80 % every doubling takes 80 %.
 */
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

/** One knife in the order of making. */
export interface Practised {
  /** Its place in the order: 1 for the first. */
  readonly n: number;
  /** Minutes it took; above zero. */
  readonly minutes: number;
}

/** A curve of the unit law. */
export interface Curve {
  /** Minutes of the first. */
  readonly first: number;
  /** What a doubling takes of the one before: 0.8 for 80 %. */
  readonly rate: number;
}

/** The exponent b of a rate; the rate is above zero. */
export const exponentOf = (rate: number): number => Math.log2(rate);

/** Minutes of the n-th knife by the unit law. */
export const unitTime = ({ first, rate }: Curve, n: number): number => first * n ** exponentOf(rate);

/** Minutes of the first n knives together by the unit law. */
export const unitTotal = (curve: Curve, n: number): number => {
  let total = 0;
  for (let at = 1; at <= n; at += 1) total += unitTime(curve, at);
  return total;
};

/** Mean minutes of the first n by the cumulative-average law. */
export const averageTime = ({ first, rate }: Curve, n: number): number => first * n ** exponentOf(rate);

/** Minutes of the first n together by the cumulative-average law. */
export const averageTotal = (curve: Curve, n: number): number => averageTime(curve, n) * n;

/** Minutes of the n-th alone by the cumulative-average law. */
export const averageMarginal = (curve: Curve, n: number): number =>
  averageTotal(curve, n) - (n > 1 ? averageTotal(curve, n - 1) : 0);

/** The rate when a doubled count took `second` where the first took `first`. */
export const rateOfDoubling = (first: number, second: number): number => second / first;

const STEPS = 200;

/**
 * The unit-law rate at which the first n together take `total`, found by halving.
 * Refuses a total no rate from 1 % to 100 % leads to.
 */
export const rateFromTotal = (first: number, n: number, total: number): Outcome<number> => {
  let low = 0.01;
  let high = 1;
  if (n < 2 || total <= unitTotal({ first, rate: low }, n) || total > first * n) {
    return refuse('These times do not fall with practice, so no learning rate describes them.');
  }
  for (let step = 0; step < STEPS && high - low > 1e-12; step += 1) {
    const middle = (low + high) / 2;
    if (unitTotal({ first, rate: middle }, n) < total) low = middle;
    else high = middle;
  }
  return ok((low + high) / 2);
};

/** Fewer than this say nothing about a curve. */
export const ENOUGH_TO_FIT = 4;

/**
 * The unit-law curve nearest to what was measured: least squares on the logarithms.
 * Refuses fewer than four knives, and times that are not above zero.
 */
export const fitCurve = (knives: readonly Practised[]): Outcome<Curve> => {
  if (knives.length < ENOUGH_TO_FIT)
    return refuse(`Too few to say: ${String(ENOUGH_TO_FIT)} finished knives are needed for a curve.`);
  if (knives.some(({ n, minutes }) => !(n >= 1) || !(minutes > 0)))
    return refuse('Every knife needs hours above zero before a curve can be drawn.');
  const points = knives.map(({ n, minutes }) => ({ x: Math.log(n), y: Math.log(minutes) }));
  const meanX = points.reduce((sum, { x }) => sum + x, 0) / points.length;
  const meanY = points.reduce((sum, { y }) => sum + y, 0) / points.length;
  const spread = points.reduce((sum, { x }) => sum + (x - meanX) ** 2, 0);
  if (spread === 0) return refuse('Too few to say: all of these have the same place in the order.');
  const slope = points.reduce((sum, { x, y }) => sum + (x - meanX) * (y - meanY), 0) / spread;
  return ok({ first: Math.exp(meanY - slope * meanX), rate: 2 ** slope });
};

/** Two groups of figures compared without supposing that they spread alike (Welch, 1947). */
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import { spreadOf } from './spread.ts';
import { tFor, twoSided } from './student-t.ts';

export interface Welch {
  /** Mean of the first less mean of the second. */
  readonly difference: number;
  readonly t: number;
  /** Degrees of freedom after Welch and Satterthwaite. */
  readonly df: number;
  /** Chance of a difference at least as large if there were none. */
  readonly p: number;
  /** Interval that holds the true difference with the confidence asked for. */
  readonly low: number;
  readonly high: number;
}

/** Figures that were divided differ by their last digit without having spread. */
const NO_SPREAD = 1e-9;

/** True where a deviation is nothing but the last digits of the figures it comes from. */
export const isNoSpread = (deviation: number, size: number): boolean =>
  deviation <= NO_SPREAD * Math.abs(size);

/**
 * Compares two means.
 * Refuses fewer than two figures on a side, and figures without any spread on both: nothing can be said then.
 */
export const welch = (
  first: readonly number[],
  second: readonly number[],
  confidence = 0.95,
): Outcome<Welch> => {
  const [a, b] = [spreadOf(first), spreadOf(second)];
  if (a?.sd == null || b?.sd == null)
    return refuse('Too few to say: each way needs at least two knives before their spread is known.');
  const [va, vb] = [a.sd ** 2 / a.n, b.sd ** 2 / b.n];
  const se = Math.sqrt(va + vb);
  if (isNoSpread(se, Math.max(Math.abs(a.mean), Math.abs(b.mean))))
    return refuse(
      'Every knife of each way took exactly the same; without any spread no interval can be reckoned.',
    );
  const difference = a.mean - b.mean;
  const df = (va + vb) ** 2 / (va ** 2 / (a.n - 1) + vb ** 2 / (b.n - 1));
  const reach = tFor(1 - confidence, df) * se;
  const t = difference / se;
  return ok({ difference, t, df, p: twoSided(t, df), low: difference - reach, high: difference + reach });
};

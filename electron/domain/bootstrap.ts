/** Bootstrap: what a figure might have been, had other knives of the same kind been made (Efron, 1979). */
import { quantilesOf } from './quantiles.ts';
import { chanceFrom } from './random.ts';
import type { Chance } from './random.ts';

/** As many drawings as keep the ends of a 95 % interval steady to about a fiftieth of its width. */
const DRAWINGS = 4000;

const meanOfDrawing = (values: readonly number[], chance: Chance): number => {
  let sum = 0;
  for (const _ of values) sum += values[chance.below(values.length)] ?? 0;
  return sum / values.length;
};

/** Means of samples drawn with replacement. @param values at least one */
export const drawnMeans = (values: readonly number[], seed: number, drawings = DRAWINGS): number[] => {
  const chance = chanceFrom(seed);
  return Array.from({ length: drawings }, () => meanOfDrawing(values, chance));
};

/** Ends of an interval. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/** Share left out on both sides together. */
const OUTSIDE = 0.05;

/**
 * The middle 95 % of what `figure` makes of the means of two groups, each drawn anew.
 * @param first,second at least one figure each
 * @param seed recorded with the answer; the same seed gives the same ends
 */
export const bootstrapInterval = (
  groups: { readonly first: readonly number[]; readonly second: readonly number[] },
  figure: (firstMean: number, secondMean: number) => number,
  seed: number,
): Interval => {
  const chance = chanceFrom(seed);
  const drawn = Array.from({ length: DRAWINGS }, () =>
    figure(meanOfDrawing(groups.first, chance), meanOfDrawing(groups.second, chance)),
  );
  const [low = Number.NaN, high = Number.NaN] = quantilesOf(drawn, [OUTSIDE / 2, 1 - OUTSIDE / 2]);
  return { low, high };
};

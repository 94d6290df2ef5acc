/** The story of a making in weights: what each step lost, and how many layers there are after it. */
import { mulDiv } from './integers.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import { LEAST_WEIGHED } from './weighing.ts';

/** What a step of the work says of itself. */
export interface StepSaid {
  /** Nanograms after the step; null where nobody weighed. */
  readonly weightAfterNg: number | null;
  /** Into how many pieces it was cut and restacked; 1 for none. */
  readonly pieces: number;
}

/** What follows from it. */
export interface StepFound {
  /** Lost since the last weighing, nanograms; null for the first weighing and where not weighed. */
  readonly lossNg: number | null;
  /** The same in parts per million of the weight before. */
  readonly lossPpm: number | null;
  /** Layers after this step; null where nothing is layered. */
  readonly layers: number | null;
}

/** A whole in parts per million. */
const WHOLE = 1_000_000;

/** A loss in parts per million of the weight before it. */
export const lossPpm = (lossNg: number, beforeNg: number): number => mulDiv(lossNg, WHOLE, beforeNg);

/**
 * Losses and layers step by step. Each loss is told against the last weighing before it; layers are those of the first
 * stack times every number of pieces the bar was cut into and restacked from.
 * @param startLayers layers of the first stack; null where nothing is layered
 */
export const followSteps = (steps: readonly StepSaid[], startLayers: number | null): StepFound[] => {
  let before: number | null = null;
  let layers = startLayers;
  return steps.map(({ weightAfterNg: after, pieces }) => {
    if (layers !== null) layers *= pieces;
    if (after === null) return { lossNg: null, lossPpm: null, layers };
    const lossNg = before === null ? null : before - after;
    const ppm = lossNg === null || before === null ? null : lossPpm(lossNg, before);
    before = after;
    return { lossNg, lossPpm: ppm, layers };
  });
};

/** Weights of the first and the last weighing; undefined with fewer than one. */
const ends = (steps: readonly StepSaid[]): readonly [number, number] | undefined => {
  const weights = steps.flatMap(({ weightAfterNg }) => (weightAfterNg === null ? [] : [weightAfterNg]));
  const [first] = weights;
  const last = weights.at(-1);
  return first === undefined || last === undefined ? undefined : [first, last];
};

/** The last weight written down, nanograms; null where nothing was weighed. */
export const lastWeight = (steps: readonly StepSaid[]): number | null => ends(steps)?.[1] ?? null;

/** From the first weighing to what came out, or to the last weighing while nothing has come out. */
export const totalLoss = (
  steps: readonly StepSaid[],
  outNg: number | null,
): { readonly lossNg: number; readonly lossPpm: number } | null => {
  const found = ends(steps);
  if (found === undefined) return null;
  const [first, last] = found;
  const lossNg = first - (outNg ?? last);
  return { lossNg, lossPpm: lossPpm(lossNg, first) };
};

/** Layers beyond this are a slip of the pen: they could not be told apart in a bar a hand can hold. */
const MOST_LAYERS = 1_000_000_000;

/**
 * Whether a step may follow the ones before it.
 * @param describe writes a weight for a sentence
 */
export const mayFollow = (
  before: readonly StepSaid[],
  next: StepSaid,
  startLayers: number | null,
  describe: (ng: number) => string,
): Outcome<null> => {
  const last = lastWeight(before);
  if (next.weightAfterNg !== null && next.weightAfterNg < LEAST_WEIGHED) {
    return refuse(
      `${describe(next.weightAfterNg)} is less than any scale shows. Check the weight and its unit, or leave it empty where nobody weighed.`,
    );
  }
  if (last !== null && next.weightAfterNg !== null && next.weightAfterNg > last) {
    const [now, then] = [describe(next.weightAfterNg), describe(last)];
    // What is written to the tenth of a gram may read the same and be more.
    const more = now === then ? 'That is a little more' : `${now} is more`;
    return refuse(
      `${more} than the ${then} of the weighing before it: the work loses weight and never gains any. Weigh again, or take the last step back and put its weight right.`,
    );
  }
  const layers = [...before, next].reduce((so, { pieces }) => so * pieces, startLayers ?? 1);
  return layers > MOST_LAYERS
    ? refuse('That would be more than a billion layers. Check the number of pieces.')
    : ok(null);
};

/**
 * What spoilt work costs the good. Failures within what is usual belong to the cost of the good ones; those beyond it
 * are a loss of the period. Everything that was put in is good stock, work in hand or loss: nothing is lost on the way.
 */
import { mulDiv } from './integers.ts';

/** Work put in, counted in units, and its cost in any one scale. */
export interface Spoilage {
  /** All that was put in, whatever became of it. */
  readonly cost: number;
  readonly good: number;
  /** Spoilt within what is usual. */
  readonly normal: number;
  /** Spoilt beyond it. */
  readonly abnormal: number;
  /** Begun and not ended. */
  readonly inProcess: number;
  /** Count spoilt ones as units of their own; false spreads their cost over good ones and work in hand. */
  readonly countSpoilt: boolean;
}

/** Where that cost went, in the scale it was given in. */
export interface SpoilageCosts {
  /** Units the cost is divided by. */
  readonly units: number;
  /** Cost of one unit, rounded. */
  readonly perUnit: number;
  /** On the good ones, usual failures included. */
  readonly toGood: number;
  /** Cost of one good one, rounded; 0 with none. */
  readonly perGood: number;
  /** Loss of the period. */
  readonly abnormalLoss: number;
  readonly inProcess: number;
}

const part = (cost: number, of: number, units: number): number => (units === 0 ? 0 : mulDiv(cost, of, units));

/** Shares out what was spent over good, spoilt and unfinished work. The three parts add up to the cost. */
export const spoilageCosts = (work: Spoilage): SpoilageCosts => {
  const { cost, good, normal, abnormal, inProcess, countSpoilt } = work;
  const units = good + inProcess + (countSpoilt ? normal + abnormal : 0);
  const unfinished = part(cost, inProcess, units);
  // With nothing good to carry them, failures within what is usual are lost as well.
  const abnormalLoss = good === 0 ? cost - unfinished : countSpoilt ? part(cost, abnormal, units) : 0;
  const toGood = cost - unfinished - abnormalLoss;
  return {
    units,
    perUnit: part(cost, 1, units),
    toGood,
    perGood: part(toGood, 1, good),
    abnormalLoss,
    inProcess: unfinished,
  };
};

/** Of so many spoilt, those within the usual share of all started; never more than there were. @param usualPpm parts per million */
export const normalSpoilt = (started: number, spoilt: number, usualPpm: number): number =>
  Math.min(spoilt, Math.ceil((started * usualPpm) / 1_000_000));

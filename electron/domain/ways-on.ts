/**
 * What to do with a doubtful knife: each way on has work and material still to spend, a chance of passing and a price.
 * What went in before is gone whichever way is taken, and is never counted here. Amounts in the minor unit.
 */
import { mulDiv } from './integers.ts';

/** What can be done with a doubtful knife. */
type WayKind = 'asPlanned' | 'rework' | 'shorten' | 'second' | 'scrap';

/** The ways in words, on screens and in advice. */
export const wayWords: Readonly<Record<WayKind, string>> = {
  asPlanned: 'Finish as planned',
  rework: 'Rework, then finish',
  shorten: 'Make a shorter knife of it',
  second: 'Finish and sell as a second',
  scrap: 'Scrap it',
};

/** One million parts: certain. */
const CERTAIN = 1_000_000;
const MINUTES_OF_HOUR = 60;

/** One way on, as it is expected to go. */
export interface WayOn {
  /** Attended minutes still to spend. */
  readonly minutes: number;
  /** Material and consumables still to spend, spent whether it passes or not. */
  readonly spendMinor: number;
  /** Packing and posting beyond what the buyer pays for it: spent only if it passes. */
  readonly sellingMinor: number;
  /** Parts per million. */
  readonly chancePpm: number;
  /** Asked for it if it passes, without shipping and tax. */
  readonly priceMinor: number;
  /** What the channel keeps of that. */
  readonly feeMinor: number;
  /** Fetched if it does not pass: material worth keeping. */
  readonly salvageMinor: number;
}

export interface WayFigures {
  /** Price less fee, packing and posting, weighed by the chance, and the salvage by the rest of it. */
  readonly expectedMinor: number;
  /** Expected less what is still to be spent; before the maker's own hours. */
  readonly leftMinor: number;
  /** Left for each hour still to spend; null where no hour is needed. */
  readonly perHourMinor: number | null;
  /** Left once the hours are paid at what they could earn elsewhere: what the ways are ranked by. */
  readonly afterHoursMinor: number;
}

/**
 * Reckons one way.
 * @param hourMinor what an hour could earn on another knife
 */
export function figuresOfWay(way: WayOn, hourMinor: number): WayFigures {
  const fetched = mulDiv(way.priceMinor - way.feeMinor - way.sellingMinor, way.chancePpm, CERTAIN);
  const saved = mulDiv(way.salvageMinor, CERTAIN - way.chancePpm, CERTAIN);
  const expectedMinor = fetched + saved;
  const leftMinor = expectedMinor - way.spendMinor;
  return {
    expectedMinor,
    leftMinor,
    perHourMinor: way.minutes === 0 ? null : mulDiv(leftMinor, MINUTES_OF_HOUR, way.minutes),
    afterHoursMinor: leftMinor - mulDiv(way.minutes, hourMinor, MINUTES_OF_HOUR),
  };
}

/** Ways from the best to the worst; equal ones by fewer minutes, then as given. */
export const ranked = <W extends { readonly minutes: number; readonly figures: WayFigures }>(
  ways: readonly W[],
): W[] =>
  ways.toSorted((a, b) => b.figures.afterHoursMinor - a.figures.afterHoursMinor || a.minutes - b.minutes);

/** Cases supposed beside the own ones, so that few of those do not speak louder than they should. */
export interface Supposed {
  readonly passed: number;
  readonly of: number;
}

/** Nothing known beforehand: one of either (Laplace's rule of succession). */
const EITHER: Supposed = { passed: 1, of: 2 };

/** Of knives begun, one in twenty is lost in an experienced shop. Common practice, no source. */
export const USUALLY_FINISHED: Supposed = { passed: 19, of: 20 };

/** Of knives that once did not pass, three in four are saved. Common practice, no source. */
export const USUALLY_SAVED: Supposed = { passed: 3, of: 4 };

/** A share from few cases, never quite none or all. */
export const likelyShare = (passed: number, of: number, supposed: Supposed = EITHER): number =>
  (passed + supposed.passed) / (of + supposed.of);

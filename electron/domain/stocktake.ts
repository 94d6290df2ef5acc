/** The reckoning of a stocktake: what a count says of the day, and whether those who counted agree. */
import { mulDiv, sum } from './integers.ts';
import { ok, type Outcome, refuse } from './outcome.ts';

/** One person's count of a line, base units. */
export interface PersonsCount {
  readonly qty: number;
  /** What the books said of the day when it was counted. */
  readonly bookedQty: number;
}

export type CountState = 'uncounted' | 'agreed' | 'apart' | 'moved';

/** How a line stands, given what the books say of the day now. */
export function countState(counts: readonly PersonsCount[], bookedQty: number): CountState {
  const [first] = counts;
  if (first === undefined) return 'uncounted';
  if (counts.some((count) => count.bookedQty !== bookedQty)) return 'moved';
  return counts.every((count) => count.qty === first.qty) ? 'agreed' : 'apart';
}

/** One in use, and the part of it that is left. */
export interface InUse {
  readonly qty: number;
  readonly leftPpm: number;
}

/** Unopened ones and what is left of those in use, in base units; each one's rest is rounded once. */
export const withOpened = (unopenedQty: number, inUse: readonly InUse[]): number =>
  sum([unopenedQty, ...inUse.map((one) => mulDiv(one.qty, one.leftPpm, 1_000_000))]);

/**
 * What lay there at the end of the day, from what lies there now.
 * @param sinceQty what came (positive) or went (negative) after the day, by the books
 */
export const onTheDay = (nowQty: number, sinceQty: number, sinceText: string): Outcome<number> =>
  nowQty - sinceQty < 0
    ? refuse(
        `${sinceText} came in after that day, which is more than lies there now. Count again, or enter what was used since.`,
      )
    : ok(nowQty - sinceQty);

/** True when two stocktakes count the same places; none named is the whole workshop. */
export const overlap = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === 0 || b.length === 0 || a.some((place) => b.includes(place));

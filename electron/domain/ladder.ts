/**
 * The ladder a figure for consumables stands on: 1 a flat amount for each knife, 2 the usual use of the model,
 * 3 openings shared over the knives they served, 4 the measured average of the maker's own last knives.
 */
import { spreadOf, TOO_FEW, type Spread } from './spread.ts';

/** A step of the ladder, 1 the roughest. */
export type Rung = 1 | 2 | 3 | 4;

/** Words for a rung, as they stand beside a figure. */
export const rungWords: Readonly<Record<Rung, string>> = {
  1: 'flat per knife',
  2: 'usual for the model',
  3: 'shared over the batch',
  4: 'average of measured knives',
};

/** Knives looked at for the average, the newest first. */
export const KNIVES_MEASURED = 10;

/** What finished knives of one model took of one consumable, by openings. */
export interface Measured extends Spread {
  /** False while too few knives were measured for the mean to be used. */
  readonly enough: boolean;
  /** The mean in whole base units. */
  readonly qty: number;
}

/**
 * Average of what the last knives took.
 * @param quantities base units by knife, newest first; a knife that needed no new one counts with zero
 */
export const measured = (quantities: readonly number[]): Measured | null => {
  const spread = spreadOf(quantities.slice(0, KNIVES_MEASURED));
  return spread === null
    ? null
    : { ...spread, enough: spread.n >= TOO_FEW && spread.mean > 0, qty: Math.round(spread.mean) };
};

/** How an item's stock falls decides which rungs can be stood on. */
export const effectiveRung = (consumedBy: string, rung: number): 2 | 3 | 4 =>
  consumedBy === 'opening' ? 3 : rung === 3 ? 3 : rung === 4 ? 4 : 2;

/** Kinds opened one by one, each serving until it is worn; common practice, no source. */
const openedOneByOne: ReadonlySet<string> = new Set(['belt', 'disc', 'stone']);

/** How the stock of a new item falls unless its maker says otherwise. @param kind its kind, as the contract names it */
export const usuallyFallsBy = (kind: string): 'use' | 'opening' =>
  openedOneByOne.has(kind) ? 'opening' : 'use';

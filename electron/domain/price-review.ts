/** What a change of price did: knives offered before it and after it. Days are ISO text. */
import { type Quartiles, quartilesOf } from './next-up.ts';

/** One knife that was offered to all, not made for an order. */
export interface OfferedOne {
  readonly modelId: string;
  /** First day it could be bought. */
  readonly offeredOn: string;
  readonly soldOn: string | null;
  /** Days from the first to the sale, or to today while it is unsold. */
  readonly days: number;
  /** It was shown in a release. */
  readonly shown: boolean;
  /** Sold in that release's early window. */
  readonly early: boolean;
}

/** How the knives offered in some time went. */
export interface OfferSum {
  readonly offered: number;
  readonly sold: number;
  readonly unsold: number;
  /** Of those shown in a release: how many, sold in its early window, sold later, still unsold. */
  readonly shown: number;
  readonly shownEarly: number;
  readonly shownLater: number;
  readonly shownUnsold: number;
  /** Days from the first offer to the sale, of those sold. */
  readonly days: Quartiles | null;
}

/** Adds up how some knives went. */
export function sumOffers(knives: readonly OfferedOne[]): OfferSum {
  const sold = knives.filter((knife) => knife.soldOn !== null);
  const shown = knives.filter((knife) => knife.shown);
  const early = shown.filter((knife) => knife.early).length;
  const shownUnsold = shown.filter((knife) => knife.soldOn === null).length;
  return {
    offered: knives.length,
    sold: sold.length,
    unsold: knives.length - sold.length,
    shown: shown.length,
    shownEarly: early,
    shownLater: shown.length - early - shownUnsold,
    shownUnsold,
    days: quartilesOf(sold.map((knife) => knife.days)),
  };
}

/** A price from a day on. */
export interface PriceFrom {
  readonly modelId: string;
  readonly from: string;
  readonly priceMinor: number;
}

/** A day on which list prices changed, with what was before and after it. */
export interface PriceChange {
  readonly on: string;
  /** Models whose price changed that day. */
  readonly models: number;
  /** Least and most of the changes, parts per million of the price before. */
  readonly leastPpm: number;
  readonly mostPpm: number;
  readonly before: OfferSum;
  readonly after: OfferSum;
}

const PPM = 1_000_000;

interface Step {
  readonly on: string;
  readonly ppm: number;
}

/** Every change of a price that stood before; the first price of a model is none. */
function stepsOf(prices: readonly PriceFrom[]): Step[] {
  const last = new Map<string, number>();
  return prices
    .toSorted((a, b) => (a.from < b.from ? -1 : a.from > b.from ? 1 : 0))
    .flatMap(({ modelId, from, priceMinor }) => {
      const before = last.get(modelId);
      last.set(modelId, priceMinor);
      return before === undefined || before === 0 || before === priceMinor
        ? []
        : [{ on: from, ppm: Math.round(((priceMinor - before) * PPM) / before) }];
    });
}

/**
 * Each day prices changed, newest first, with the knives offered from the change before it to the change after it.
 * All knives of the workshop count: a dearer model pushes buyers to its neighbours too.
 */
export function priceChanges(
  prices: readonly PriceFrom[],
  knives: readonly OfferedOne[],
): readonly PriceChange[] {
  const steps = stepsOf(prices);
  const days = [...new Set(steps.map((step) => step.on))].toSorted();
  const between = (from: string, until: string): OfferSum =>
    sumOffers(knives.filter(({ offeredOn }) => offeredOn >= from && offeredOn < until));
  return days
    .map((on, at) => {
      const own = steps.filter((step) => step.on === on).map((step) => step.ppm);
      return {
        on,
        models: own.length,
        leastPpm: Math.min(...own),
        mostPpm: Math.max(...own),
        before: between(days[at - 1] ?? '', on),
        after: between(on, days[at + 1] ?? '~'),
      };
    })
    .toReversed();
}

/** Fewer knives than this on a side prove nothing about a price. Common practice, no source. */
export const ENOUGH_FOR_PRICE = 20;

/** Gone within this of the opening: others would have paid more. Lying so many days: too much was asked. Common practice, no source. */
const AT_ONCE_MINUTES = 60;
const LONG_DAYS = 60;

/** What the time a knife took says of its price. @param minutes from the opening of its release; null without one */
export function priceHint(days: number, minutes: number | null): 'atOnce' | 'long' | null {
  if (minutes !== null && minutes <= AT_ONCE_MINUTES) return 'atOnce';
  return days >= LONG_DAYS ? 'long' : null;
}

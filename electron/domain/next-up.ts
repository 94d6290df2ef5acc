/** What to make next: how sure a figure is, what the rack covers, and how a model stands. Nothing here is booked. */
import { mulDiv, sumOf } from './integers.ts';
import { quantilesOf } from './quantiles.ts';
import { TOO_FEW } from './spread.ts';

/** Middle and middle half of some figures, rounded to the unit. */
export interface Quartiles {
  readonly n: number;
  readonly low: number;
  readonly middle: number;
  readonly high: number;
}

/** Quartiles of type 7; null for no figures. Under three they are there, and whoever shows them says "too few". */
export function quartilesOf(values: readonly number[]): Quartiles | null {
  if (values.length === 0) return null;
  const [low = 0, middle = 0, high = 0] = quantilesOf(values, [0.25, 0.5, 0.75]).map(Math.round);
  return { n: values.length, low, middle, high };
}

/** A knife sold, minor unit and minutes. */
export interface SoldOne {
  readonly contributionMinor: number;
  readonly minutes: number;
}

const MINUTES_OF_HOUR = 60;

/** Left for each bench hour: all of it over all hours, and how the single knives lie. Knives without hours are left out. */
export function hourly(sold: readonly SoldOne[]): {
  readonly pooledMinor: number | null;
  readonly each: Quartiles | null;
} {
  const worked = sold.filter((one) => one.minutes > 0);
  const minutes = sumOf(worked, (one) => one.minutes);
  return {
    pooledMinor:
      minutes === 0
        ? null
        : mulDiv(
            sumOf(worked, (one) => one.contributionMinor),
            MINUTES_OF_HOUR,
            minutes,
          ),
    each: quartilesOf(worked.map((one) => (one.contributionMinor * MINUTES_OF_HOUR) / one.minutes)),
  };
}

/** What one knife of a model takes of an item, and what lies there; base units. */
export interface Covering {
  readonly perKnife: number;
  /** What is left of each lot. Bars, sheets and blocks cannot be joined, so each counts for itself. */
  readonly lots: readonly number[];
  readonly joins: boolean;
  /** What open knives still have to take, each by itself. */
  readonly spokenFor: readonly number[];
  /** Shares of a bar are rounded; so much may be missing of one. */
  readonly tolerance: number;
}

/** What is left of lots that cannot be joined once open knives took theirs: the largest first, each from the shortest that does. */
function leftBeside({ lots, spokenFor, tolerance }: Covering): number[] {
  const left = lots.toSorted((a, b) => a - b);
  for (const need of spokenFor.toSorted((a, b) => b - a)) {
    const at = left.findIndex((qty) => qty + tolerance >= need);
    if (at === -1) continue;
    left[at] = Math.max(0, (left[at] ?? 0) - need);
    left.sort((a, b) => a - b);
  }
  return left;
}

/** How many knives an item is enough for, open ones served first. An upper bound where lots cannot be joined. */
export function enoughFor(covering: Covering): number {
  const { perKnife, lots, joins, spokenFor, tolerance } = covering;
  if (perKnife <= 0) return Number.MAX_SAFE_INTEGER;
  const fits = (qty: number): number => Math.max(0, Math.floor((qty + tolerance) / perKnife));
  const free = fits(sumOf(lots, (lot) => lot) - sumOf(spokenFor, (need) => need));
  return joins ? free : Math.min(free, sumOf(leftBeside(covering), fits));
}

/** Why a model stands where it stands in the list; see `standingOf`. */
export type NextStanding = 'promised' | 'askedFor' | 'sells' | 'tooFew' | 'lies';

export interface Demand {
  /** Agreed orders no knife is made for. */
  readonly promised: number;
  /** Wishes and offers no knife is made for. */
  readonly asked: number;
  /** People with a quote that holds and no wish. */
  readonly quoted: number;
  /** Knives planned or in work for nobody. */
  readonly coming: number;
  /** Days each finished knife for nobody has been offered. */
  readonly unsoldDays: readonly number[];
  readonly soldDays: Quartiles | null;
  readonly sold: number;
}

/** A knife that nobody took in so many days lies, where the own past does not say. Common practice, no source. */
const LIES_AFTER_DAYS = 60;

const liesAfter = ({ soldDays }: Demand): number =>
  soldDays !== null && soldDays.n >= TOO_FEW ? Math.max(soldDays.high, 1) : LIES_AFTER_DAYS;

/**
 * How a model stands: promised to somebody, asked for by more than there are knives, lying unsold for longer than it
 * usually takes, sold too seldom to say, or selling.
 */
export function standingOf(demand: Demand): NextStanding {
  if (demand.promised > 0) return 'promised';
  if (demand.asked + demand.quoted > demand.coming + demand.unsoldDays.length) return 'askedFor';
  const limit = liesAfter(demand);
  if (demand.unsoldDays.some((days) => days > limit)) return 'lies';
  return demand.sold < TOO_FEW ? 'tooFew' : 'sells';
}

const ORDER: readonly NextStanding[] = ['promised', 'askedFor', 'sells', 'tooFew', 'lies'];

/** First whoever waits, then what sells, then what is not known, then what lies; within each the best hour first. */
export const byNext = <
  T extends { readonly standing: NextStanding; readonly perHourMinor: number | null; readonly code: string },
>(
  rows: readonly T[],
): T[] =>
  rows.toSorted(
    (a, b) =>
      ORDER.indexOf(a.standing) - ORDER.indexOf(b.standing) ||
      (b.perHourMinor ?? Number.NEGATIVE_INFINITY) - (a.perHourMinor ?? Number.NEGATIVE_INFINITY) ||
      a.code.localeCompare(b.code),
  );

/**
 * When the knives of a queue will be done: the queue is run many times over with weeks, paces and losses drawn from the
 * own past. The same seed gives the same days; every run uses the same draws whatever the hours, so that more work can
 * never bring an earlier day.
 */
import { addDays } from './calendar.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import { chanceFrom } from './random.ts';

/** One knife to be made, in the order of the queue. */
export interface QueuedKnife {
  readonly id: string;
  /** Attended minutes still to spend at the usual pace. */
  readonly minutes: number;
  /** Minutes of a whole new one, should this one be lost. */
  readonly minutesAnew: number;
  /** Chance that it is lost on the way, 0 to 1. */
  readonly loss: number;
  /** Days that glue, kiln and oil need whatever the hours. */
  readonly waitDays: number;
  /** Paces of this knife alone, where its minutes are a guess with its own spread; left out, the own past speaks. */
  readonly paces?: readonly number[];
}

/** What the bench gave before. */
export interface BenchPast {
  /** Bench minutes of whole weeks; at least one above zero. */
  readonly weeks: readonly number[];
  /** Booked to usual minutes of own finished knives; empty counts as usual. */
  readonly paces: readonly number[];
}

/** Days away from the bench, both ends counted. */
export interface Closed {
  readonly from: string;
  readonly until: string;
}

export interface KnifeForecast {
  readonly id: string;
  /** Half of the runs were done by this day. */
  readonly half: string;
  /** 85 of 100 runs were done by this day. */
  readonly likely: string;
}

/** As many runs as keep the 85 % day steady to about a day. */
export const RUNS = 10_000;
/** Past this nothing is promised: a run that takes longer ends here. */
export const MOST_DAYS = 5 * 366;
/** Days a run can end on, today's among them. */
const DAYS_COUNTED = MOST_DAYS + 1;
const DAYS_OF_WEEK = 7;
const WEEKS_DRAWN = 4096;

/** Share of each coming week the bench is open: 1 without closed days. */
function openShares(today: string, closed: readonly Closed[]): Float64Array {
  const shares = new Float64Array(Math.ceil(MOST_DAYS / DAYS_OF_WEEK)).fill(1);
  for (let day = 1; day <= MOST_DAYS; day += 1) {
    const on = addDays(today, day);
    if (!closed.some(({ from, until }) => from <= on && on <= until)) continue;
    const week = Math.floor((day - 1) / DAYS_OF_WEEK);
    shares[week] = Math.max(0, (shares[week] ?? 0) - 1 / DAYS_OF_WEEK);
  }
  return shares;
}

/** The queue and the past laid flat, because every figure is read ten thousand times. */
interface Flat {
  readonly minutes: Float64Array;
  readonly minutesAnew: Float64Array;
  readonly loss: Float64Array;
  readonly waitDays: Float64Array;
  /** Paces each knife draws from; never empty. */
  readonly paces: readonly (readonly number[])[];
  readonly weeks: Float64Array;
  /** Share of each coming week the bench is open. */
  readonly open: Float64Array;
}

const asUsual = [1];

const flatten = (queue: readonly QueuedKnife[], own: readonly number[]): Omit<Flat, 'weeks' | 'open'> => ({
  minutes: Float64Array.from(queue, (knife) => knife.minutes),
  minutesAnew: Float64Array.from(queue, (knife) => knife.minutesAnew),
  loss: Float64Array.from(queue, (knife) => knife.loss),
  waitDays: Float64Array.from(queue, (knife) => knife.waitDays),
  paces: queue.map((knife) => {
    const paces = knife.paces ?? own;
    return paces.length === 0 ? asUsual : paces;
  }),
});

const LAST_WEEK = Math.ceil(MOST_DAYS / DAYS_OF_WEEK);

/** Day of a run, counted from its first, on which the bench stands: so much of a week's minutes is left. */
const dayIn = (week: number, had: number, left: number): number =>
  week * DAYS_OF_WEEK + (had === 0 ? DAYS_OF_WEEK : Math.ceil((1 - left / had) * DAYS_OF_WEEK));

/** First day by which a share of the runs was done. */
function dayAt(counts: Uint32Array, share: number): number {
  const wanted = Math.ceil(share * RUNS);
  let sum = 0;
  for (let day = 0; day < counts.length; day += 1) {
    sum += counts[day] ?? 0;
    if (sum >= wanted) return day;
  }
  return counts.length - 1;
}

/**
 * One run: every knife draws its pace and its luck, whatever its hours, and works off what the weeks give.
 * @param offset the drawn week that is the first one
 * @param counts for each knife, how many runs ended on each day; one after the other
 */
function runOnce(flat: Flat, offset: number, part: () => number, counts: Uint32Array): void {
  const { minutes, minutesAnew, loss, waitDays, paces, weeks, open } = flat;
  let week = 0;
  let had = (weeks[offset % WEEKS_DRAWN] ?? 0) * (open[0] ?? 1);
  let left = had;
  let today = dayIn(week, had, left);
  for (let at = 0; at < paces.length; at += 1) {
    const own = paces[at] ?? asUsual;
    const pace = own[Math.floor(part() * own.length)] ?? 1;
    const lost = part() < (loss[at] ?? 0) ? 1 : 0;
    let rest = ((minutes[at] ?? 0) + lost * (minutesAnew[at] ?? 0)) * pace;
    while (rest > left && week < LAST_WEEK) {
      rest -= left;
      week += 1;
      had = (weeks[(offset + week) % WEEKS_DRAWN] ?? 0) * (open[week] ?? 1);
      left = had;
    }
    left = Math.max(0, left - rest);
    const waited = today + (waitDays[at] ?? 0) * (1 + lost);
    today = dayIn(week, had, left);
    const place = at * DAYS_COUNTED + Math.min(MOST_DAYS, Math.max(today, waited));
    counts[place] = (counts[place] ?? 0) + 1;
  }
}

/**
 * Runs the queue and answers two days for each knife.
 * Refuses a past without any bench hours: then nothing can be promised until a figure is written.
 */
export function forecast(
  queue: readonly QueuedKnife[],
  past: BenchPast,
  when: { readonly today: string; readonly closed: readonly Closed[]; readonly seed: number },
): Outcome<readonly KnifeForecast[]> {
  if (!past.weeks.some((minutes) => minutes > 0))
    return refuse(
      'No bench hours are booked in these weeks, so no day can be named. Write how many hours a week you expect.',
    );
  const chance = chanceFrom(when.seed);
  const weeks = Float64Array.from(
    { length: WEEKS_DRAWN },
    () => past.weeks[chance.below(past.weeks.length)] ?? 0,
  );
  const flat = { ...flatten(queue, past.paces), weeks, open: openShares(when.today, when.closed) };
  const counts = new Uint32Array(queue.length * DAYS_COUNTED);
  for (let run = 0; run < RUNS; run += 1) runOnce(flat, chance.below(WEEKS_DRAWN), chance.part, counts);
  return ok(
    queue.map((knife, index) => {
      const days = counts.subarray(index * DAYS_COUNTED, (index + 1) * DAYS_COUNTED);
      return {
        id: knife.id,
        half: addDays(when.today, dayAt(days, 0.5)),
        likely: addDays(when.today, dayAt(days, 0.85)),
      };
    }),
  );
}

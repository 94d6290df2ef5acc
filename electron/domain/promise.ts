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

interface Drawn {
  readonly weeks: Float64Array;
  readonly open: Float64Array;
}

const LAST_WEEK = Math.ceil(MOST_DAYS / DAYS_OF_WEEK);

/** Where one run stands: the week, what is left of its minutes, and the minutes it had. */
class Bench {
  week = 0;
  #left = 0;
  #had = 0;
  #offset = 0;
  readonly #weeks: Float64Array;
  readonly #open: Float64Array;

  constructor({ weeks, open }: Drawn) {
    this.#weeks = weeks;
    this.#open = open;
  }

  /** Begins a run. @param offset the drawn week that is its first */
  begin(offset: number): void {
    this.#offset = offset;
    this.#enter(0);
  }

  #enter(week: number): void {
    this.week = week;
    const drawn = this.#weeks[(this.#offset + week) % WEEKS_DRAWN] ?? 0;
    this.#had = drawn * (this.#open[week] ?? 1);
    this.#left = this.#had;
  }

  /** Day of the run, counted from today, on which the bench stands now. */
  get day(): number {
    const part = this.#had === 0 ? 1 : 1 - this.#left / this.#had;
    return this.week * DAYS_OF_WEEK + Math.ceil(part * DAYS_OF_WEEK);
  }

  /** Works some minutes off. */
  spend(minutes: number): void {
    let rest = minutes;
    while (rest > this.#left && this.week < LAST_WEEK) {
      rest -= this.#left;
      this.#enter(this.week + 1);
    }
    this.#left = Math.max(0, this.#left - rest);
  }
}

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

/** One run: every knife draws its pace and its luck, whatever its hours. */
function runOnce(
  queue: readonly QueuedKnife[],
  paces: readonly number[],
  { bench, part }: { readonly bench: Bench; readonly part: () => number },
  counts: readonly Uint32Array[],
): void {
  for (let index = 0; index < queue.length; index += 1) {
    const knife = queue[index];
    const days = counts[index];
    if (knife === undefined || days === undefined) continue;
    const own = knife.paces ?? paces;
    const luck = part();
    const pace = own.length === 0 ? 1 : (own[Math.floor(luck * own.length)] ?? 1);
    const lost = part() < knife.loss;
    const begun = bench.day;
    bench.spend((knife.minutes + (lost ? knife.minutesAnew : 0)) * pace);
    const done = Math.min(MOST_DAYS, Math.max(bench.day, begun + knife.waitDays * (lost ? 2 : 1)));
    days[done] = (days[done] ?? 0) + 1;
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
  const drawn = { weeks, open: openShares(when.today, when.closed) };
  const counts = queue.map(() => new Uint32Array(MOST_DAYS + 1));
  const bench = new Bench(drawn);
  for (let run = 0; run < RUNS; run += 1) {
    bench.begin(chance.below(WEEKS_DRAWN));
    runOnce(queue, past.paces, { bench, part: chance.part }, counts);
  }
  return ok(
    queue.map((knife, index) => {
      const days = counts[index] ?? new Uint32Array(1);
      return {
        id: knife.id,
        half: addDays(when.today, dayAt(days, 0.5)),
        likely: addDays(when.today, dayAt(days, 0.85)),
      };
    }),
  );
}

/** The own past a promise stands on: hours a week, pace, promises kept. */
import type { Promises } from '../../api/promises.ts';
import { addDays, dayOfWeek, daysBetween } from '../../domain/calendar.ts';
import { quantilesOf } from '../../domain/quantiles.ts';
import { TOO_FEW } from '../../domain/spread.ts';
import { triangularFigures } from '../../domain/triangular.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  benchDays,
  deliveredPromises,
  finishedPaces,
  runningPromises,
  workDays,
} from '../../storage/queries/promises.ts';

export const WEEKS = 10;
const DAYS_OF_WEEK = 7;
/** As many knives as tell the pace of today. */
const LAST_KNIVES = 20;
const PPM = 1_000_000;

/** Whole weeks, Monday to Sunday. */
interface WeeksKnown {
  readonly from: string;
  readonly to: string;
  readonly count: number;
}

/**
 * The last ten whole weeks; fewer where the books hold no work before: a week nobody wrote down is not a week without
 * work.
 */
export function weeksKnown(db: ReadDb, today: string): WeeksKnown {
  const monday = addDays(today, 1 - dayOfWeek(today));
  const first = workDays(db).first ?? today;
  const known = Math.floor(daysBetween(addDays(first, 1 - dayOfWeek(first)), monday) / DAYS_OF_WEEK);
  const count = Math.min(WEEKS, Math.max(0, known));
  return { from: addDays(monday, -count * DAYS_OF_WEEK), to: addDays(monday, -1), count };
}

/** Bench minutes of the weeks that are known, oldest first. */
export function lastWeeks(db: ReadDb, today: string): number[] {
  const { from, to, count } = weeksKnown(db, today);
  const weeks = Array.from({ length: count }, () => 0);
  for (const day of benchDays(db, from, to)) {
    const week = Math.floor(daysBetween(from, day.on_date) / DAYS_OF_WEEK);
    weeks[week] = (weeks[week] ?? 0) + day.minutes;
  }
  return weeks;
}

/** Booked to usual minutes of the last finished knives. */
export const paces = (db: ReadDb): number[] =>
  finishedPaces(db, LAST_KNIVES)
    .filter((row) => row.usual > 0)
    .map((row) => row.minutes / row.usual);

/**
 * What is supposed of the pace while no own knife is finished: usual minutes are most likely, a fifth less at best, and
 * more than half as much again at worst. Common practice, no source.
 */
const GUESSED_PACE = { least: 0.8, likely: 1, most: 1.6 };
const GUESSES = 100;

/** Paces to run the queue with: the own ones, or what is supposed while there are none. */
export const pacesToRun = (own: readonly number[]): readonly number[] =>
  own.length === 0 ? triangularFigures(GUESSED_PACE, GUESSES) : own;

/** The pace as shown; null without any finished knife. */
export function paceShown(own: readonly number[]): Promises['pace'] {
  if (own.length === 0) return null;
  const [low = 1, middle = 1, high = 1] = quantilesOf(own, [0.25, 0.5, 0.75]);
  const ppm = (share: number): number => Math.round(share * PPM);
  return { lowPpm: ppm(low), middlePpm: ppm(middle), highPpm: ppm(high), knives: own.length };
}

/** Middle of some counts of days, to whole ones; null below three: one or two say nothing. */
function middleAfter(days: readonly number[]): number | null {
  const [middle = 0] = quantilesOf(days, [0.5]);
  return days.length < TOO_FEW ? null : Math.round(middle);
}

/**
 * How promises were kept so far; a day agreed first counts, not one it was moved to. An order that still runs past its
 * day was not in time, whenever it will come.
 */
export function promisesKept(db: ReadDb, today: string): Promises['kept'] {
  const rows = deliveredPromises(db);
  const running = runningPromises(db);
  type Named = 'promised_on' | 'likely_on';
  const overdue = (day: Named) => running.filter((row) => (row[day] ?? today) < today).length;
  const by = (day: Named) =>
    rows.filter((row) => {
      const named = row[day];
      return named !== null && row.ended_on <= named;
    }).length;
  const overduePromised = overdue('promised_on');
  return {
    promised: rows.filter((row) => row.promised_on !== null).length + overduePromised,
    inTime: by('promised_on'),
    overdue: overduePromised,
    noted: rows.filter((row) => row.likely_on !== null).length + overdue('likely_on'),
    byLikely: by('likely_on'),
    afterLikelyDays: middleAfter(
      rows.flatMap((row) => (row.likely_on === null ? [] : [daysBetween(row.likely_on, row.ended_on)])),
    ),
  };
}

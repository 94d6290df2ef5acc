/** The own past a promise stands on: hours a week, pace, promises kept. */
import type { Promises } from '../../api/promises.ts';
import { addDays, dayOfWeek, daysBetween } from '../../domain/calendar.ts';
import { quantilesOf } from '../../domain/quantiles.ts';
import { TOO_FEW } from '../../domain/spread.ts';
import { triangularFigures } from '../../domain/triangular.ts';
import type { ReadDb } from '../../storage/db.ts';
import { benchDays, deliveredPromises, finishedPaces } from '../../storage/queries/promises.ts';

const WEEKS = 10;
const DAYS_OF_WEEK = 7;
/** As many knives as tell the pace of today. */
const LAST_KNIVES = 20;
const PPM = 1_000_000;

/** Bench minutes of the last ten whole weeks, Monday to Sunday, oldest first. */
export function lastWeeks(db: ReadDb, today: string): number[] {
  const monday = addDays(today, 1 - dayOfWeek(today));
  const from = addDays(monday, -WEEKS * DAYS_OF_WEEK);
  const weeks = Array.from({ length: WEEKS }, () => 0);
  for (const day of benchDays(db, from, addDays(monday, -1))) {
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

/** How promises were kept so far; a day agreed first counts, not one it was moved to. */
export function promisesKept(db: ReadDb): Promises['kept'] {
  const rows = deliveredPromises(db).flatMap(({ ended_on: endedOn, ...row }) =>
    endedOn === null ? [] : [{ ...row, endedOn }],
  );
  const by = (day: 'promised_on' | 'likely_on') =>
    rows.filter((row) => {
      const named = row[day];
      return named !== null && row.endedOn <= named;
    }).length;
  return {
    promised: rows.filter((row) => row.promised_on !== null).length,
    inTime: by('promised_on'),
    noted: rows.filter((row) => row.likely_on !== null).length,
    byLikely: by('likely_on'),
    afterLikelyDays: middleAfter(
      rows.flatMap((row) => (row.likely_on === null ? [] : [daysBetween(row.likely_on, row.endedOn)])),
    ),
  };
}

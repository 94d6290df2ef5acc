/** The queue by Little's law: a check of the days named that needs no chance and can be done on paper. */
import type { Promises } from '../../api/promises.ts';
import { addDays, dayOfWeek } from '../../domain/calendar.ts';
import { openAt, rateNeeded, waitWith } from '../../domain/littles-law.ts';
import type { ReadDb } from '../../storage/db.ts';
import { doneAndAgreed } from '../../storage/queries/promises.ts';

const DAYS_OF_WEEK = 7;
/** A wait many buyers put up with; common practice, no source. */
const USUAL_WEEKS = 8;

/**
 * @param open how many are in the queue
 * @param weeks whole weeks that are known, up to the last Sunday
 */
export function flowOf(db: ReadDb, open: number, weeks: number, today: string): Promises['flow'] {
  const monday = addDays(today, 1 - dayOfWeek(today));
  const counts = doneAndAgreed(db, addDays(monday, -weeks * DAYS_OF_WEEK), addDays(monday, -1));
  const rate = counts.finished === 0 ? null : counts.finished / weeks;
  return {
    open,
    ...counts,
    waitWeeks: rate === null ? null : waitWith(open, rate),
    openAtUsual: rate === null ? null : Math.floor(openAt(rate, USUAL_WEEKS)),
    rateAtUsual: rateNeeded(open, USUAL_WEEKS),
    usualWeeks: USUAL_WEEKS,
  };
}

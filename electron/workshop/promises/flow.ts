/** The queue by Little's law: a check of the days named that needs no chance and can be done on paper. */
import type { Promises } from '../../api/promises.ts';
import { openAt, rateNeeded, waitWith } from '../../domain/littles-law.ts';
import type { ReadDb } from '../../storage/db.ts';
import { doneAndAgreed } from '../../storage/queries/promises.ts';
import { weeksKnown } from './past.ts';

/** A wait many buyers put up with; common practice, no source. */
const USUAL_WEEKS = 8;

/** @param open how many are in the queue */
export function flowOf(db: ReadDb, open: number, today: string): Promises['flow'] {
  const weeks = weeksKnown(db, today);
  const counts = doneAndAgreed(db, weeks.from, weeks.to);
  const rate = counts.finished === 0 ? null : counts.finished / weeks.count;
  return {
    open,
    ...counts,
    waitWeeks: rate === null ? null : waitWith(open, rate),
    openAtUsual: rate === null ? null : Math.floor(openAt(rate, USUAL_WEEKS)),
    rateAtUsual: rateNeeded(open, USUAL_WEEKS),
    usualWeeks: USUAL_WEEKS,
  };
}

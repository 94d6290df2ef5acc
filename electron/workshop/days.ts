/** Days: nothing is done before its day has come, and what was booked by mistake goes from the day it stood on. */
import { invalid } from '../api/errors.ts';
import { closedThrough } from '../storage/seal/open-books.ts';
import type { QueryContext } from './context.ts';

/**
 * @param today the workshop's day
 * @param on the day something is said to have been done
 * @throws FaultError `invalid` for a day that has not come yet
 */
export function demandCome(today: string, on: string): void {
  if (on > today) throw invalid('This day is still to come. Write the day it was done.', 'on');
}

/** Today, or a later day that stands in the books already, as after the clock was set back. */
export const todayOrLater = (today: string, day: string): string => (today > day ? today : day);

/**
 * The day a correction counts on: that of what it corrects, so that stock of a day gone by is what really lay there.
 * A closed year stays as it was closed; it is corrected today.
 */
export const correctionDay = (
  { db, clock }: Pick<QueryContext, 'db' | 'clock'>,
  corrected: string,
): string => (corrected > (closedThrough(db) ?? '') ? corrected : todayOrLater(clock.today(), corrected));

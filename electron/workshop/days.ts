/** Days a person writes: nothing is done before its day has come. */
import { invalid } from '../api/errors.ts';

/**
 * @param today the workshop's day
 * @param on the day something is said to have been done
 * @throws FaultError `invalid` for a day that has not come yet
 */
export function demandCome(today: string, on: string): void {
  if (on > today) throw invalid('This day is still to come. Write the day it was done.', 'on');
}

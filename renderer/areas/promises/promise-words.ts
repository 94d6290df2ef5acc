/** Words of promises. */
import type { PromiseRow, Promises } from '../../../electron/api/promises.ts';
import { count, duration } from '../../lib/format.ts';

/** How a promise stands. */
export const stateWords: Readonly<Record<PromiseRow['state'], string>> = {
  safe: 'safe',
  atRisk: 'at risk',
  late: 'late',
  notPromised: 'not promised',
};

/** What a row is about. */
export const whatText = (row: PromiseRow): string => {
  if (row.kind === 'new') return `A new ${row.modelName}`;
  if (row.kind === 'order') return `${row.modelName === '' ? 'A knife' : row.modelName}, not begun`;
  return `${row.serial ?? ''} ${row.modelName}`;
};

/** Bench hours of the last weeks, the oldest first. */
export const weeksText = (weeks: readonly number[]): string =>
  weeks.every((minutes) => minutes === 0)
    ? 'nothing was booked in the last ten weeks'
    : `${weeks.length === 1 ? 'the last week' : `the last ${weeks.length === 10 ? 'ten' : String(weeks.length)} weeks`}: ${weeks.map((minutes) => duration(minutes)).join(', ')}`;

/** What the days named so far are worth, once there are three to say it; empty otherwise. */
export const keptWarning = ({ noted, byLikely, afterLikelyDays }: Promises['kept']): string => {
  if (afterLikelyDays === null || byLikely / noted >= 0.7) return '';
  return `The days named so far were too early: half of these orders came ${count(afterLikelyDays, 'day')} or more after them. The reckoning sees the knives that are open, not those you begin later and put first. Promise that much later, or take orders first.`;
};

/** Words of promises. */
import type { PromiseRow, Promises } from '../../../electron/api/promises.ts';
import { count, duration, percent } from '../../lib/format.ts';

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

/** So many whole weeks, Monday to Sunday; the one that runs is not among them. */
const weeksSpan = (weeks: readonly number[]): string =>
  weeks.length === 1
    ? 'the last whole week'
    : `the last ${weeks.length === 10 ? 'ten' : String(weeks.length)} whole weeks`;

/** Pace of the own knives against the usual minutes. */
export const paceText = (pace: Promises['pace']): string => {
  if (pace === null) return 'no own knife is finished yet';
  const middle = percent(pace.middlePpm, 0);
  if (pace.knives < 3)
    return `${middle}, of ${count(pace.knives, 'knife', 'knives')}; too few to say how it spreads`;
  return `${middle}, half of the last ${String(pace.knives)} knives between ${percent(pace.lowPpm, 0)} and ${percent(pace.highPpm, 0)}`;
};

/** Bench hours of the last weeks, the oldest first. */
export const weeksText = (weeks: readonly number[]): string =>
  weeks.every((minutes) => minutes === 0)
    ? weeks.length === 0
      ? 'no whole week is in the books yet'
      : `nothing was booked in ${weeksSpan(weeks)}`
    : `${weeksSpan(weeks)}: ${weeks.map((minutes) => duration(minutes)).join(', ')}`;

const tenths = (value: number): string => String(Math.round(value * 10) / 10);

/** How long the last one waits, by the knives done in the last weeks. */
export const flowText = ({ flow, weeks }: Promises): string => {
  const { open, finished, agreed, waitWeeks, openAtUsual, rateAtUsual, usualWeeks } = flow;
  const span = weeksSpan(weeks);
  if (waitWeeks === null || openAtUsual === null)
    return weeks.length === 0 ? 'no whole week is in the books yet' : `nothing was finished in ${span}`;
  const wait = waitWeeks < 1 ? 'less than a week' : `about ${count(Math.round(waitWeeks), 'week')}`;
  return `${String(open)} open, ${String(finished)} finished in ${span}, that is ${tenths(finished / weeks.length)} a week: the last one waits ${wait}. For a wait of ${String(usualWeeks)} weeks no more than ${String(openAtUsual)} may be open${waitWeeks > usualWeeks ? `, or ${tenths(rateAtUsual)} have to be finished a week` : ''}.${
    agreed > finished
      ? ` ${count(agreed, 'order was', 'orders were')} agreed in those weeks, more than were finished: the queue grows.`
      : ''
  }`;
};

/** What the days named so far are worth, once there are three to say it; empty otherwise. */
export const keptWarning = ({ noted, byLikely, afterLikelyDays }: Promises['kept']): string => {
  if (afterLikelyDays === null || byLikely / noted >= 0.7) return '';
  return `The days named so far were too early: half of these orders came ${count(afterLikelyDays, 'day')} or more after them. The reckoning sees the knives that are open, not those you begin later and put first. Promise that much later, or take orders first.`;
};

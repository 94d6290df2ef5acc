/** Words of the ways on with a doubtful knife. */
import type { WayKind, WayRow } from '../../../electron/api/ways.ts';
import { count, duration } from '../../lib/format.ts';

/** What each way is called. */
export const wayWords: Readonly<Record<WayKind, string>> = {
  asPlanned: 'Finish as planned',
  rework: 'Rework, then finish',
  shorten: 'Make a shorter knife of it',
  second: 'Finish and sell as a second',
  scrap: 'Scrap it',
};

/** Hours still to spend with their spread. */
export const hoursText = (row: WayRow): string =>
  row.minutesLow === row.minutesHigh
    ? duration(row.minutes)
    : `${duration(row.minutes)} (half of the time ${duration(row.minutesLow)} to ${duration(row.minutesHigh)})`;

/** Where a stage's minutes come from. */
export const fromText = (from: number): string =>
  from === 0 ? 'usual for the model' : `middle of ${count(from, 'own knife', 'own knives')}`;

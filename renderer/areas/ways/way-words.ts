/** Words of the ways on with a doubtful knife. */
import type { WayRow } from '../../../electron/api/ways.ts';
import { count, duration } from '../../lib/format.ts';

/** Hours still to spend with their spread. */
export const hoursText = (row: WayRow): string =>
  row.minutesLow === row.minutesHigh
    ? duration(row.minutes)
    : `${duration(row.minutes)} (half of the time ${duration(row.minutesLow)} to ${duration(row.minutesHigh)})`;

/** Where a stage's minutes come from. */
export const fromText = (from: number): string =>
  from === 0 ? 'usual for the model' : `middle of ${count(from, 'own knife', 'own knives')}`;

/** Beginnings of fiscal years in words. */
import type { FiscalRule } from '../../../electron/api/year.ts';

export const months = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const;
export const weekdays = [
  'Monday',
  'Tuesday',
  'Wednesday',
  'Thursday',
  'Friday',
  'Saturday',
  'Sunday',
] as const;

/** E.g. "each year begins on 1 January". */
export function ruleWords({ kind, month, day }: FiscalRule): string {
  const name = months[month - 1] ?? '';
  if (kind === 'date') return `each year begins on ${String(day)} ${name}`;
  const weekday = weekdays[day - 1] ?? '';
  return kind === 'last'
    ? `each year ends on the last ${weekday} in ${name}`
    : `each year ends on the ${weekday} nearest to the end of ${name}`;
}

/**
 * Calendar days as ISO text, reckoned by whole day numbers in the proleptic Gregorian calendar (ISO 8601).
 * No clock and no time zone: a workshop's day is a day. Texts are compared as they stand.
 */
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

export interface DayParts {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}

const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/** Leap year of the Gregorian calendar (ISO 8601). */
export const isLeapYear = (year: number): boolean => year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);

/** Days of a month, 1 to 12. @throws RangeError for another month */
export const daysInMonth = (year: number, month: number): number => {
  const days = MONTH_LENGTHS[month - 1];
  if (days === undefined) throw new RangeError(`No month ${String(month)}`);
  return month === 2 && isLeapYear(year) ? 29 : days;
};

const matchDay = (text: string): DayParts | undefined => {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text);
  if (match === null) return undefined;
  const year = Number(match[1]);
  const month = Number(match[2]);
  const day = Number(match[3]);
  const exists = year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month);
  return exists ? { year, month, day } : undefined;
};

/** Whether a text is an existing day as `YYYY-MM-DD`. */
export const isDay = (text: string): boolean => matchDay(text) !== undefined;

/** Checks a typed date. */
export const parseDay = (text: string): Outcome<string> => {
  const typed = text.trim();
  if (typed === '') return refuse('Enter a date, for example 2024-07-06.');
  if (isDay(typed)) return ok(typed);
  return /^\d{4}-\d{2}-\d{2}$/.test(typed)
    ? refuse(`There is no day ${typed} in the calendar.`)
    : refuse(`“${typed}” is not a date. Write year, month and day, for example 2024-07-06.`);
};

/** Parts of a day. @throws RangeError when the text is not an existing day */
export const dayParts = (iso: string): DayParts => {
  const parts = matchDay(iso);
  if (parts === undefined) throw new RangeError(`Not a day: ${iso}`);
  return parts;
};

const pad = (value: number, width: number): string => String(value).padStart(width, '0');

const isoText = (year: number, month: number, day: number): string => {
  if (year < 1 || year > 9999) throw new RangeError(`Year out of range: ${String(year)}`);
  return `${pad(year, 4)}-${pad(month, 2)}-${pad(day, 2)}`;
};

/** Days before the first of March of a year that begins in March: puts the leap day last. */
const daysToMarchYear = (year: number): number =>
  365 * year + Math.floor(year / 4) - Math.floor(year / 100) + Math.floor(year / 400);

/** Day number of 1970-01-01 in the same reckoning. */
const EPOCH = 719_468;

/** Days since 1970-01-01. @throws RangeError when the text is not an existing day */
export const dayNumber = (iso: string): number => {
  const { year, month, day } = dayParts(iso);
  const marchYear = month > 2 ? year : year - 1;
  const monthFromMarch = (month + 9) % 12;
  return daysToMarchYear(marchYear) + Math.floor((153 * monthFromMarch + 2) / 5) + day - 1 - EPOCH;
};

/** The day of a day number. @throws RangeError outside the years 1 to 9999 */
export const fromDayNumber = (number: number): string => {
  const shifted = number + EPOCH;
  const cycle = Math.floor(shifted / 146_097);
  const inCycle = shifted - cycle * 146_097;
  const yearInCycle = Math.floor(
    (inCycle - Math.floor(inCycle / 1460) + Math.floor(inCycle / 36_524) - Math.floor(inCycle / 146_096)) /
      365,
  );
  const dayOfYear = inCycle - daysToMarchYear(yearInCycle);
  const monthFromMarch = Math.floor((5 * dayOfYear + 2) / 153);
  const day = dayOfYear - Math.floor((153 * monthFromMarch + 2) / 5) + 1;
  const month = monthFromMarch < 10 ? monthFromMarch + 3 : monthFromMarch - 9;
  return isoText(cycle * 400 + yearInCycle + (month <= 2 ? 1 : 0), month, day);
};

/** The day so many days later, or earlier when negative. */
export const addDays = (iso: string, days: number): string => fromDayNumber(dayNumber(iso) + days);

/** Days from `from` to `to`; negative when `to` is earlier. */
export const daysBetween = (from: string, to: string): number => dayNumber(to) - dayNumber(from);

/** Adds months; a day that does not exist becomes the month's last (31 January + 1 month is the end of February). Count from the first date, never from the shortened one. */
export const addMonths = (iso: string, months: number): string => {
  const { year, month, day } = dayParts(iso);
  const at = year * 12 + (month - 1) + months;
  const newYear = Math.floor(at / 12);
  const newMonth = at - newYear * 12 + 1;
  return isoText(newYear, newMonth, Math.min(day, daysInMonth(newYear, newMonth)));
};

/** Monday is 1, Sunday 7. */
export const dayOfWeek = (iso: string): number => ((((dayNumber(iso) + 3) % 7) + 7) % 7) + 1;

/** First day of the month of a day. */
export const monthStart = (iso: string): string => `${iso.slice(0, 8)}01`;

/** Last day of the month of a day. */
export const monthEnd = (iso: string): string => {
  const { year, month } = dayParts(iso);
  return isoText(year, month, daysInMonth(year, month));
};

/** Whether the day ends its month. */
export const isMonthEnd = (iso: string): boolean => monthEnd(iso) === iso;

/** Start of every month from the one of `from` to the one of `to`, for charts by month. */
export const monthsBetween = (from: string, to: string): string[] => {
  const start = monthStart(from);
  const first = dayParts(from);
  const last = dayParts(to);
  const count = (last.year - first.year) * 12 + last.month - first.month + 1;
  return Array.from({ length: Math.max(0, count) }, (_, at) => addMonths(start, at));
};

/** Monday to Friday, and none of the days off. */
const isWorkday = (number: number, daysOff: ReadonlySet<number>): boolean =>
  (((number + 3) % 7) + 7) % 7 < 5 && !daysOff.has(number);

/** Working days between two days, both counted; Saturdays, Sundays and the days off are not. */
export const workdaysBetween = (from: string, to: string, daysOff: readonly string[] = []): number => {
  const off = new Set(daysOff.map(dayNumber));
  let count = 0;
  for (let at = dayNumber(from); at <= dayNumber(to); at += 1) if (isWorkday(at, off)) count += 1;
  return count;
};

/** The day so many working days later; the first day itself does not count. @throws RangeError for less than none */
export const addWorkdays = (iso: string, workdays: number, daysOff: readonly string[] = []): string => {
  if (workdays < 0) throw new RangeError(`Not a number of working days: ${String(workdays)}`);
  const off = new Set(daysOff.map(dayNumber));
  let at = dayNumber(iso);
  for (let left = workdays; left > 0; at += 1) if (isWorkday(at + 1, off)) left -= 1;
  return fromDayNumber(at);
};

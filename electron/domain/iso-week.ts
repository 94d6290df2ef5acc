/** Week dates of ISO 8601: weeks begin on Monday, week 1 holds the year's first Thursday. */
import { addDays, dayOfWeek, dayParts, daysBetween } from './calendar.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

export interface WeekDate {
  /** Year the week belongs to; at the turn of the year not always the calendar year. */
  readonly year: number;
  readonly week: number;
  /** Monday is 1, Sunday 7. */
  readonly day: number;
}

const yearText = (year: number): string => String(year).padStart(4, '0');

/** Monday of week 1: the week with 4 January in it. */
const weekOne = (year: number): string => {
  const fourth = `${yearText(year)}-01-04`;
  return addDays(fourth, 1 - dayOfWeek(fourth));
};

/** 52 or 53. A long year begins, or in a leap year ends, on a Thursday: so it holds 53 of them. */
export const weeksInYear = (year: number): number =>
  dayOfWeek(`${yearText(year)}-01-01`) === 4 || dayOfWeek(`${yearText(year)}-12-31`) === 4 ? 53 : 52;

/** Week date of a calendar day. */
export const weekOf = (iso: string): WeekDate => {
  const day = dayOfWeek(iso);
  const { year } = dayParts(addDays(iso, 4 - day));
  return { year, week: Math.floor(daysBetween(weekOne(year), iso) / 7) + 1, day };
};

/** Writes a week date, e.g. `2004-W53-6`. */
export const weekText = ({ year, week, day }: WeekDate): string =>
  `${yearText(year)}-W${String(week).padStart(2, '0')}-${String(day)}`;

/** The calendar day of a written week date; refuses week 0, week 53 in a short year, and days outside 1 to 7. */
export const parseWeekDate = (text: string): Outcome<string> => {
  const match = /^(\d{4})-?W(\d{2})-?(\d)$/.exec(text.trim());
  if (match === null) return refuse(`“${text.trim()}” is not a week date. Write it like 2006-W01-1.`);
  const year = Number(match[1]);
  const week = Number(match[2]);
  const day = Number(match[3]);
  if (year < 1) return refuse('There is no year 0000.');
  if (week < 1 || week > weeksInYear(year)) {
    return refuse(
      `${yearText(year)} has weeks 1 to ${String(weeksInYear(year))}; there is no week ${String(week)}.`,
    );
  }
  if (day < 1 || day > 7) return refuse('The day of the week is a number from 1, Monday, to 7, Sunday.');
  return ok(addDays(weekOne(year), (week - 1) * 7 + day - 1));
};

/** Times of day of this machine, between a day, minutes after midnight and an instant. */
import { dayParts, isDay } from '../../../electron/domain/calendar.ts';

/** Milliseconds since the epoch of a local time of day; undefined for a day that is none. */
export const momentOf = (day: string, minutes: number): number | undefined => {
  if (!isDay(day)) return undefined;
  const { year, month, day: date } = dayParts(day);
  return new Date(year, month - 1, date, Math.floor(minutes / 60), minutes % 60).getTime();
};

/** Minutes after local midnight of an instant. */
export const timeOfDayOf = (instant: string): number => {
  const at = new Date(instant);
  return at.getHours() * 60 + at.getMinutes();
};

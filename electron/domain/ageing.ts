/** How long money is owed past its day, in the usual bands of thirty days (common practice, no source). */
import { daysBetween } from './calendar.ts';

/** Bands in their order: `to30` is 1 to 30 days past the due day. */
export const AGE_BANDS = ['notDue', 'to30', 'to60', 'to90', 'over90'] as const;
export type AgeBand = (typeof AGE_BANDS)[number];

/** Days past the due day; zero or less is not due yet. */
export const daysLate = (dueOn: string, on: string): number => daysBetween(dueOn, on);

/** The band of so many days past the due day. */
export const ageBand = (late: number): AgeBand => {
  if (late <= 0) return 'notDue';
  if (late <= 30) return 'to30';
  if (late <= 60) return 'to60';
  return late <= 90 ? 'to90' : 'over90';
};

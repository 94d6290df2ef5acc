/** A year in months, so that no step of it is long. */
import { monthEnd, monthsBetween } from '../../domain/calendar.ts';
import type { Days } from '../../storage/queries/year-knives.ts';

/** The months of a span, the first and last cut to it. */
export const monthsIn = ({ from, to }: Days): readonly Days[] =>
  monthsBetween(from, to).map((month) => ({
    from: month < from ? from : month,
    to: monthEnd(month) > to ? to : monthEnd(month),
  }));

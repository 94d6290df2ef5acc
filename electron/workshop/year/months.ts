/** A year in months, or shorter still, so that no step of it is long. */
import { addDays, monthEnd, monthsBetween } from '../../domain/calendar.ts';
import type { Days } from '../../storage/queries/year-knives.ts';

/** The months of a span, the first and last cut to it. */
export const monthsIn = ({ from, to }: Days): readonly Days[] =>
  monthsBetween(from, to).map((month) => ({
    from: month < from ? from : month,
    to: monthEnd(month) > to ? to : monthEnd(month),
  }));

/** A step over every movement of so many days is short also in a workshop that takes a thousand things a day. */
const DAYS = 8;

/** Stretches of a few days each, none of them in two months. */
export const stretchesIn = (span: Days): readonly Days[] =>
  monthsIn(span).flatMap(({ from, to }) => {
    const parts: Days[] = [];
    for (let start = from; start <= to; start = addDays(start, DAYS)) {
      const end = addDays(start, DAYS - 1);
      parts.push({ from: start, to: end > to ? to : end });
    }
    return parts;
  });

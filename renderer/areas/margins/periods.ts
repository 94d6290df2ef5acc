/** The periods a maker asks about, reckoned from the workshop's day. */
import { addDays, addMonths, dayParts } from '../../../electron/domain/calendar.ts';

export type PeriodKey = 'twelve' | 'month' | 'quarter' | 'year' | 'lastYear' | 'all' | 'own';

export interface Period {
  readonly from: string;
  readonly to: string;
}

const two = (n: number): string => String(n).padStart(2, '0');
const first = (year: number, month: number): string => `${String(year)}-${two(month)}-01`;
const upTo = (from: string, months: number): Period => ({ from, to: addDays(addMonths(from, months), -1) });

/** First and last day of a named period around `today`; `own` and `all` are the caller's to say. */
export const periodOf = (key: Exclude<PeriodKey, 'own' | 'all'>, today: string): Period => {
  const { year, month } = dayParts(today);
  switch (key) {
    case 'twelve':
      return { from: addDays(addMonths(today, -12), 1), to: today };
    case 'month':
      return upTo(first(year, month), 1);
    case 'quarter':
      return upTo(first(year, month - ((month - 1) % 3)), 3);
    case 'year':
      return upTo(first(year, 1), 12);
    case 'lastYear':
      return upTo(first(year - 1, 1), 12);
  }
};

/** Wide enough for every entry a workshop can have. */
export const everything: Period = { from: '1970-01-01', to: '9999-12-31' };

/** The choices in words. */
export const periodWords: readonly { readonly value: PeriodKey; readonly label: string }[] = [
  { value: 'twelve', label: 'The last 12 months' },
  { value: 'month', label: 'This month' },
  { value: 'quarter', label: 'This quarter' },
  { value: 'year', label: 'This year' },
  { value: 'lastYear', label: 'Last year' },
  { value: 'all', label: 'All there is' },
  { value: 'own', label: 'From … to …' },
];

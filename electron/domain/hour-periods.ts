/** What an hour brought, period by period: sums of months put together and divided once. */
import { monthEnd } from './calendar.ts';
import { perHour } from './earnings.ts';

/** Sums of one month; amounts in the minor unit. */
export interface HourMonth {
  /** `YYYY-MM` */
  readonly month: string;
  readonly sold: number;
  readonly contributionMinor: number;
  readonly soldMinutes: number;
  readonly benchMinutes: number;
  readonly makingMinutes: number;
  /** Minutes on neither by kind of work. */
  readonly others: ReadonlyMap<string, number>;
  readonly expensesMinor: number;
  /** Bench time of the month at the overhead rate in force. */
  readonly rateMinor: number;
}

export type PeriodLength = 'month' | 'quarter' | 'year';

const PPM = 1_000_000;

/** Name of the period a month lies in: `2025-07`, `2025 Q3` or `2025`. */
export function periodName(month: string, by: PeriodLength): string {
  const year = month.slice(0, 4);
  if (by === 'year') return year;
  return by === 'month' ? month : `${year} Q${String(Math.ceil(Number(month.slice(5)) / 3))}`;
}

const add = (months: readonly HourMonth[], pick: (month: HourMonth) => number): number =>
  months.reduce((sum, month) => sum + pick(month), 0);

function othersOf(months: readonly HourMonth[]): { readonly kind: string; readonly minutes: number }[] {
  const kinds = new Map<string, number>();
  for (const month of months)
    for (const [kind, minutes] of month.others) kinds.set(kind, (kinds.get(kind) ?? 0) + minutes);
  return [...kinds].map(([kind, minutes]) => ({ kind, minutes })).toSorted((a, b) => b.minutes - a.minutes);
}

/** Puts months together. Overhead is what was spent, or the rate times bench hours where nothing is booked. */
export function sumPeriod(name: string, months: readonly HourMonth[]) {
  const contributionMinor = add(months, (month) => month.contributionMinor);
  const soldMinutes = add(months, (month) => month.soldMinutes);
  const benchMinutes = add(months, (month) => month.benchMinutes);
  const makingMinutes = add(months, (month) => month.makingMinutes);
  const others = othersOf(months);
  const otherMinutes = others.reduce((sum, other) => sum + other.minutes, 0);
  const worked = benchMinutes + makingMinutes + otherMinutes;
  const spentMinor = add(months, (month) => month.expensesMinor);
  const overheadMinor = spentMinor === 0 ? add(months, (month) => month.rateMinor) : spentMinor;
  return {
    name,
    from: `${months[0]?.month ?? ''}-01`,
    to: monthEnd(`${months.at(-1)?.month ?? ''}-01`),
    sold: add(months, (month) => month.sold),
    contributionMinor,
    soldMinutes,
    perBuildHourMinor: perHour(contributionMinor, soldMinutes),
    ...{ benchMinutes, makingMinutes, otherMinutes, others },
    unpaidPpm: worked === 0 ? null : Math.round((otherMinutes * PPM) / worked),
    overheadMinor,
    overheadFrom: spentMinor === 0 ? ('rate' as const) : ('expenses' as const),
    overheadPerHourMinor: perHour(overheadMinor, benchMinutes),
    perHourWorkedMinor: perHour(contributionMinor - overheadMinor, worked),
  };
}

/** Use-case: what an hour brought over time, what overhead took of it, and how much of the work no knife pays for. */
import type { HourPeriod } from '../../api/asked.ts';
import type { WorkKind } from '../../api/hours.ts';
import { monthEnd, monthsBetween } from '../../domain/calendar.ts';
import { groupBy } from '../../domain/groups.ts';
import { type HourMonth, type PeriodLength, periodName, sumPeriod } from '../../domain/hour-periods.ts';
import { allocate, mulDiv, sumOf } from '../../domain/integers.ts';
import { MICRO_DECIMALS } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { minutesByMonth } from '../../storage/queries/asked.ts';
import { expensesByMonth } from '../../storage/queries/expenses.ts';
import { firstTrip, mileageTotal } from '../../storage/queries/money.ts';
import { listSales } from '../../storage/queries/selling.ts';
import { hourRates, rateOn } from '../costs/hour-rates.ts';
import { houseOf } from '../costs/house.ts';
import { depreciationIn, yearsBetween } from '../money/depreciation.ts';
import { saleRows } from '../selling/sale-rows.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;
const MINUTES_OF_HOUR = 60;

const monthOf = (day: string): string => day.slice(0, 7);

/** Depreciation of each month, less what was gained on tools sold: the fiscal year's, in equal parts over its months since the books begin. */
function depreciationByMonth(db: ReadDb, from: string, today: string): Map<string, number> {
  const months = yearsBetween(db, from, today).flatMap((year) => {
    const days = monthsBetween(year.from > from ? year.from : from, year.to);
    const parts = allocate(
      sumOf(depreciationIn(db, year), (line) => line.minor - (line.gainMinor ?? 0)),
      days.map(() => 1),
    );
    return days.map((day, at) => [monthOf(day), parts[at] ?? 0] as const);
  });
  const found = new Map<string, number>();
  for (const [month, minor] of months) found.set(month, (found.get(month) ?? 0) + minor);
  return found;
}

/** Expenses the year counts as overhead, by month. */
const overheadSpent = (db: ReadDb, today: string) =>
  groupBy(
    expensesByMonth(db, { from: '0001-01-01', to: today }).filter(
      (row) => row.kind === 'overhead' || row.kind === 'supplies',
    ),
    (row) => row.month,
  );

/** Overhead spent in each month: expenses of that kind, trips and depreciation. */
function overheadByMonth(
  db: ReadDb,
  spent: ReturnType<typeof overheadSpent>,
  from: string,
  today: string,
): (month: string) => number {
  const worn = depreciationByMonth(db, from, today);
  return (month) =>
    sumOf(spent.get(month) ?? [], (row) => row.cost_minor) +
    mileageTotal(db, { from: `${month}-01`, to: monthEnd(`${month}-01`) }) +
    (worn.get(month) ?? 0);
}

function monthsWith(db: ReadDb, today: string): HourMonth[] {
  const sales = groupBy(saleRows(db, listSales(db, { to: today }, EVERY, 0)), (sale) => monthOf(sale.on));
  const work = groupBy(minutesByMonth(db), (row) => row.month);
  const spent = overheadSpent(db, today);
  // Rent paid before the first knife is rent all the same.
  const trip = firstTrip(db, today);
  const first = [
    ...[...sales.keys(), ...work.keys(), ...spent.keys()],
    ...(trip === null ? [] : [monthOf(trip)]),
  ].toSorted()[0];
  if (first === undefined) return [];
  const rates = hourRates(db);
  const { decimals } = houseOf(db);
  const spentIn = overheadByMonth(db, spent, `${first}-01`, today);
  return monthsBetween(`${first}-01`, today).map((day) => {
    const month = monthOf(day);
    const sold = (sales.get(month) ?? []).filter((sale) => !sale.takenBack);
    const rows = work.get(month) ?? [];
    const minutesOf = (kind: string) => rows.find((row) => row.kind === kind)?.minutes ?? 0;
    const benchMinutes = minutesOf('bench');
    const rate = rateOn(rates, 'overhead', { on_date: monthEnd(day), person_id: null })?.per_hour_micro ?? 0;
    return {
      month,
      sold: sold.length,
      contributionMinor: sumOf(sales.get(month) ?? [], (sale) => sale.contributionMinor),
      soldMinutes: sumOf(sold, (sale) => sale.minutes),
      benchMinutes,
      makingMinutes: minutesOf('making'),
      others: new Map(
        rows
          .filter((row) => row.kind !== 'bench' && row.kind !== 'making')
          .map((row) => [row.kind, row.minutes]),
      ),
      expensesMinor: spentIn(month),
      rateMinor: mulDiv(rate, benchMinutes, MINUTES_OF_HOUR * 10 ** (MICRO_DECIMALS - decimals)),
    };
  });
}

/** Every period from the first work or sale to today, the latest first. */
export function hoursOver(db: ReadDb, today: string, by: PeriodLength): HourPeriod[] {
  const periods = groupBy(monthsWith(db, today), (month) => periodName(month.month, by));
  return [...periods]
    .map(([name, months]) => {
      const { others, ...sums } = sumPeriod(name, months);
      return { ...sums, others: others.map(({ kind, minutes }) => ({ kind: kind as WorkKind, minutes })) };
    })
    .toReversed();
}

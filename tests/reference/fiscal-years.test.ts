/**
 * Fiscal years against published examples: 26 CFR 1.441-2 (years of 52 or 53 weeks, and its example of a year that ends on
 * the last Saturday in November), the tax office's definition of a regular fiscal year (twelve months that end on the
 * last day of a month), and the leap years of the Gregorian calendar (ISO 8601).
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addDays,
  addMonths,
  dayOfWeek,
  daysBetween,
  isMonthEnd,
  monthEnd,
} from '../../electron/domain/calendar.ts';
import {
  endedLast,
  fiscalYears,
  weekdayEnd,
  withRule,
  yearName,
  yearOf,
  type YearRule,
} from '../../electron/domain/fiscal-year.ts';

const SATURDAY = 6;
const rule = (fromOn: string, month: number, day: number, kind: YearRule['kind'] = 'date'): YearRule => ({
  fromOn,
  kind,
  month,
  day,
});
const spans = (rules: readonly YearRule[], until: string): string[] =>
  fiscalYears(rules, until).map(({ from, to, short }) => `${from} ${to}${short ? ' short' : ''}`);

describe('Fiscal years', () => {
  test('26 CFR 1.441-2(a)(4): the last Saturday in November 2001 is the 24th', () => {
    expect(weekdayEnd(2001, 11, SATURDAY, false)).toBe('2001-11-24');
  });

  test('26 CFR 1.441-2(a): years of weeks have 52 or 53, and end at most six days before the month’s end, or three around it', () => {
    for (const kind of ['last', 'nearest'] as const) {
      const years = fiscalYears([rule('2000-11-26', 11, SATURDAY, kind)], '2099-12-31').slice(1);
      expect(new Set(years.map(({ from, to }) => daysBetween(from, to) + 1))).toEqual(new Set([364, 371]));
      for (const { to } of years) {
        expect(dayOfWeek(to)).toBe(SATURDAY);
        const end = to.slice(5, 7) === '11' ? monthEnd(to) : `${to.slice(0, 4)}-11-30`;
        const off = daysBetween(to, end);
        expect(kind === 'last' ? off >= 0 && off <= 6 : Math.abs(off) <= 3).toBe(true);
      }
    }
  });

  test('the year that ended last is counted at its own end, not at that of the calendar', () => {
    // Twelve months from 1 July, by the definition above: on 6 March 2026 the last that ended did so on 30 June 2025.
    const years = fiscalYears([rule('2023-07-01', 7, 1)], '2026-03-06');
    expect(endedLast(years, '2026-03-06')).toBe('2025-06-30');
    expect(endedLast(years, '2025-06-30')).toBe('2024-06-30');
    expect(endedLast(years, '2024-06-30')).toBeUndefined();
  });

  test('a regular fiscal year is twelve months that end on the last day of a month, a leap day too', () => {
    expect(spans([rule('2023-03-01', 3, 1)], '2025-03-01')).toEqual([
      '2023-03-01 2024-02-29',
      '2024-03-01 2025-02-28',
      '2025-03-01 2026-02-28',
    ]);
    for (let month = 1; month <= 12; month += 1)
      for (const { to } of fiscalYears([rule('1999-01-01', month, 1)], '2101-01-01'))
        expect(isMonthEnd(to)).toBe(true);
  });

  test('a year may begin on the leap day itself; without one it begins on the 28th', () => {
    expect(spans([rule('2024-02-29', 2, 29)], '2028-03-01')).toEqual([
      '2024-02-29 2025-02-27',
      '2025-02-28 2026-02-27',
      '2026-02-28 2027-02-27',
      '2027-02-28 2028-02-28',
      '2028-02-29 2029-02-27',
    ]);
  });

  test('the first year and the one a change cuts are short, and are called by their days', () => {
    const rules = [rule('2024-07-01', 1, 1), rule('2026-01-01', 7, 1)];
    const years = fiscalYears(rules, '2026-08-01');
    expect(years.map((year) => `${yearName(year)}${year.short ? ' (short)' : ''}`)).toEqual([
      '2024, from 2024-07-01 (short)',
      '2025',
      '2026-01-01 to 2026-06-30 (short)',
      '2026/27',
    ]);
    expect(yearOf(years, '2026-07-01')?.to).toBe('2027-06-30');
    const weeks = fiscalYears([rule('2019-12-29', 12, SATURDAY, 'nearest')], '2021-06-01');
    expect(weeks.map(yearName)).toEqual(['2020', '2021']);
  });

  test('a beginning in the middle of a year would overlap it and is refused with the days that would do', () => {
    const had = [rule('2024-07-01', 1, 1)];
    const refusal = withRule(had, rule('2025-06-01', 6, 1));
    expect(refusal).toEqual({
      ok: false,
      message:
        'It would overlap the year from 2025-01-01 to 2025-12-31. Let it begin on 2025-01-01 or on 2026-01-01.',
    });
    expect(withRule(had, rule('2025-01-01', 6, 1)).ok).toBe(true);
    // What was set for later would then begin in the middle of a year.
    const two = [...had, rule('2026-01-01', 7, 1)];
    expect(withRule(two, rule('2025-01-01', 4, 1))).toMatchObject({ ok: false });
    expect(withRule(had, rule('2025-01-01', 2, 30)).ok).toBe(false);
    expect(withRule(had, rule('2025-01-01', 11, 9, 'last')).ok).toBe(false);
  });

  test('whatever the rule, every day lies in exactly one year and no year is longer than twelve months or 53 weeks', () => {
    const any = fc.record({
      fromOn: fc.integer({ min: 0, max: 60_000 }).map((n) => addDays('1900-01-01', n)),
      kind: fc.constantFrom('date' as const, 'last' as const, 'nearest' as const),
      month: fc.integer({ min: 1, max: 12 }),
      day: fc.integer({ min: 1, max: 7 }),
    });
    fc.assert(
      fc.property(any, (one) => {
        const years = fiscalYears([one], addDays(one.fromOn, 3000));
        expect(years[0]?.from).toBe(one.fromOn);
        for (const [at, year] of years.entries()) {
          const next = years[at + 1];
          if (next !== undefined) expect(next.from).toBe(addDays(year.to, 1));
          expect(year.to >= year.from).toBe(true);
          const longest =
            one.kind === 'date' ? addDays(addMonths(year.from, 12), -1) : addDays(year.from, 370);
          expect(year.to <= longest).toBe(true);
        }
      }),
      { numRuns: 200 },
    );
  });
});

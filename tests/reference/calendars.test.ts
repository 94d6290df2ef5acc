/** G1: week dates of ISO 8601, READ in public test suites (lubridate, Deno std, Crystal, MSVC chrono), recomputed. G2: working days and G4: months, each check says which. */
import { format, parseISO } from 'date-fns';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  addWorkdays,
  fromDayNumber,
  isLeapYear,
  workdaysBetween,
} from '../../electron/domain/calendar.ts';
import { parseWeekDate, weekOf, weeksInYear, weekText } from '../../electron/domain/iso-week.ts';
import { sentence, value } from '../domain/figures.ts';

describe('G1: week dates', () => {
  it.each([
    ['G1a', '2005-01-01', '2004-W53-6'],
    ['G1a', '2005-01-02', '2004-W53-7'],
    ['G1a', '2005-12-31', '2005-W52-6'],
    ['G1a', '2006-01-01', '2005-W52-7'],
    ['G1a', '2006-01-02', '2006-W01-1'],
    ['G1b', '2006-12-31', '2006-W52-7'],
    ['G1b', '2007-01-01', '2007-W01-1'],
    ['G1b', '2007-12-30', '2007-W52-7'],
    ['G1b', '2007-12-31', '2008-W01-1'],
    ['G1b', '2008-01-01', '2008-W01-2'],
    ['G1d', '1985-04-12', '1985-W15-5'],
    ['G1e', '2020-12-31', '2020-W53-4'],
    ['G1e', '2021-01-03', '2020-W53-7'],
    ['G1e', '2024-12-30', '2025-W01-1'],
    ['G1e (CALC)', '2026-12-31', '2026-W53-4'],
    ['G1e (CALC)', '2027-01-03', '2026-W53-7'],
  ])('%s: %s is %s and back', (_, day, week) => {
    expect(weekText(weekOf(day))).toBe(week);
    expect(value(parseWeekDate(week))).toBe(day);
    expect(format(parseISO(day), "RRRR-'W'II-i")).toBe(week);
  });

  it('G1f: refuses week 0 (READ)', () => {
    expect(sentence(parseWeekDate('2006-W00-1'))).toBe('2006 has weeks 1 to 52; there is no week 0.');
  });

  it('G1f: has a week 53 only in long years', () => {
    const years = Array.from({ length: 28 }, (_, at) => 2000 + at);
    expect(years.filter((year) => weeksInYear(year) === 53)).toEqual([2004, 2009, 2015, 2020, 2026]);
    for (const year of years) {
      expect(parseWeekDate(`${String(year)}-W53-1`).ok).toBe(weeksInYear(year) === 53);
    }
    expect(sentence(parseWeekDate('2006-W53-1'))).toBe('2006 has weeks 1 to 52; there is no week 53.');
  });

  it('refuses days of the week that do not exist and text that is no week date', () => {
    expect(parseWeekDate('2006-W10-0').ok).toBe(false);
    expect(parseWeekDate('2006-W10-8').ok).toBe(false);
    expect(sentence(parseWeekDate('week 10'))).toBe(
      '“week 10” is not a week date. Write it like 2006-W01-1.',
    );
    expect(parseWeekDate('0000-W01-1').ok).toBe(false);
  });
});

describe('G2: working days', () => {
  const thanksgivingAndMore = ['2008-11-26', '2008-12-04', '2009-01-21'];

  it('G2a: counts both ends, without Saturdays, Sundays and days off (first two READ in spreadsheet help for NETWORKDAYS, third CALC)', () => {
    const counted = [[], thanksgivingAndMore.slice(0, 1), thanksgivingAndMore].map((daysOff) =>
      workdaysBetween('2008-10-01', '2009-03-01', daysOff),
    );
    expect(counted).toEqual([108, 107, 105]);
  });

  it('G2c: finds the day 151 working days on (MEM-hi, spreadsheet help for WORKDAY; recomputed)', () => {
    expect([addWorkdays('2008-10-01', 151), addWorkdays('2008-10-01', 151, thanksgivingAndMore)]).toEqual([
      '2009-04-30',
      '2009-05-05',
    ]);
  });

  it('counts what it adds, from any day', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20_000 }), fc.integer({ min: 1, max: 60 }), (start, days) => {
        const from = fromDayNumber(start);
        expect(workdaysBetween(addDays(from, 1), addWorkdays(from, days))).toBe(days);
      }),
      { numRuns: 50 },
    );
  });
});

describe('G4: months', () => {
  it('G4a: counts from the first day and shortens where the month is shorter (CALC)', () => {
    expect([1, 2, 3].map((months) => addMonths('2009-01-31', months))).toEqual([
      '2009-02-28',
      '2009-03-31',
      '2009-04-30',
    ]);
  });

  it('G4b: knows leap years (definition)', () => {
    expect([1900, 2000, 2024, 2100].map(isLeapYear)).toEqual([false, true, true, false]);
  });
});

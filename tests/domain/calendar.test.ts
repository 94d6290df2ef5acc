import * as dateFns from 'date-fns';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addDays,
  addMonths,
  dayNumber,
  dayOfWeek,
  dayParts,
  daysBetween,
  daysInMonth,
  fromDayNumber,
  isDay,
  isLeapYear,
  isMonthEnd,
  monthEnd,
  monthStart,
  monthsBetween,
  parseDay,
} from '../../electron/domain/calendar.ts';
import { minutesText, parseDuration } from '../../electron/domain/durations.ts';
import { parseWeekDate, weekOf, weekText, weeksInYear } from '../../electron/domain/iso-week.ts';
import { sentence, value } from './figures.ts';

/** Day numbers from the year 1900 to 2199: within what the cross-checking library handles. */
const anyDay = fc.integer({ min: -25_567, max: 84_005 }).map(fromDayNumber);
const theirs = (iso: string): Date => dateFns.parseISO(iso);
const text = (date: Date): string => dateFns.format(date, 'yyyy-MM-dd');

describe('calendar days', () => {
  it('number from 1970-01-01 and back over nine thousand years', () => {
    expect([dayNumber('1970-01-01'), dayNumber('2024-07-06'), dayNumber('1969-12-31')]).toEqual([
      0, 19_910, -1,
    ]);
    const everyDay = fc.integer({ min: dayNumber('0001-01-01'), max: dayNumber('9999-12-31') });
    fc.assert(fc.property(everyDay, (number) => dayNumber(fromDayNumber(number)) === number));
  });

  it('agree with date-fns on adding, counting and weekdays', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -5000, max: 5000 }), (iso, days) => {
        const later = addDays(iso, days);
        expect(later).toBe(text(dateFns.addDays(theirs(iso), days)));
        expect(daysBetween(iso, later)).toBe(days);
        expect(dayOfWeek(iso)).toBe(dateFns.getISODay(theirs(iso)));
      }),
    );
  });

  it('agree with date-fns on adding months and on month ends', () => {
    fc.assert(
      fc.property(anyDay, fc.integer({ min: -200, max: 200 }), (iso, months) => {
        expect(addMonths(iso, months)).toBe(text(dateFns.addMonths(theirs(iso), months)));
        expect(monthEnd(iso)).toBe(text(dateFns.endOfMonth(theirs(iso))));
        expect(isMonthEnd(iso)).toBe(dateFns.isLastDayOfMonth(theirs(iso)));
      }),
    );
  });

  it('agree with date-fns on week dates', () => {
    fc.assert(
      fc.property(anyDay, (iso) => {
        expect(weekText(weekOf(iso))).toBe(dateFns.format(theirs(iso), "RRRR-'W'II-i"));
        expect(value(parseWeekDate(weekText(weekOf(iso))))).toBe(iso);
        expect(weeksInYear(dayParts(iso).year)).toBe(
          dateFns.getISOWeeksInYear(dateFns.parseISO(`${iso.slice(0, 4)}-06-01`)),
        );
      }),
    );
  });

  it('know month lengths and list months for a chart', () => {
    expect([daysInMonth(2024, 2), daysInMonth(2023, 2), daysInMonth(2024, 4)]).toEqual([29, 28, 30]);
    expect(() => daysInMonth(2024, 13)).toThrow(RangeError);
    expect(isLeapYear(2024)).toBe(true);
    expect(monthStart('2024-07-06')).toBe('2024-07-01');
    expect(monthsBetween('2024-11-30', '2025-02-01')).toEqual([
      '2024-11-01',
      '2024-12-01',
      '2025-01-01',
      '2025-02-01',
    ]);
    expect(monthsBetween('2025-02-01', '2024-11-30')).toEqual([]);
  });

  it('refuse days that do not exist', () => {
    expect(
      ['2024-02-29', '2023-02-29', '2024-13-01', '2024-00-10', '2024-04-31', '0000-01-01', '2024-1-1'].map(
        isDay,
      ),
    ).toEqual([true, false, false, false, false, false, false]);
    expect(sentence(parseDay(''))).toBe('Enter a date, for example 2024-07-06.');
    expect(sentence(parseDay('2023-02-29'))).toBe('There is no day 2023-02-29 in the calendar.');
    expect(sentence(parseDay('6 July'))).toBe(
      '“6 July” is not a date. Write year, month and day, for example 2024-07-06.',
    );
    expect(value(parseDay(' 2024-07-06 '))).toBe('2024-07-06');
    expect(() => dayNumber('2023-02-29')).toThrow(RangeError);
    expect(() => addDays('9999-12-31', 1)).toThrow(RangeError);
  });
});

describe('lengths of time', () => {
  it('are written in hours and minutes', () => {
    expect([410, 45, 120, 0, -75].map(minutesText)).toEqual([
      '6 h 50 min',
      '45 min',
      '2 h',
      '0 min',
      '-1 h 15 min',
    ]);
  });

  it('are read as people say them', () => {
    const said: [string, number][] = [
      ['2 h', 120],
      ['1h30', 90],
      ['1 h 30 min', 90],
      ['1h30m', 90],
      ['90 min', 90],
      ['90m', 90],
      ['1.5 h', 90],
      ['1,5 h', 90],
      ['1 1/2 hours', 90],
      ['1½ h', 90],
      ['2:15', 135],
      ['0:05', 5],
      ['1 hour and 5 minutes', 65],
      ['0 min', 0],
    ];
    expect(said.map(([typed]) => value(parseDuration(typed)))).toEqual(said.map(([, minutes]) => minutes));
  });

  it('need a unit unless one is agreed', () => {
    expect(sentence(parseDuration('90'))).toBe('Is “90” hours or minutes? Write it like 2 h or 90 min.');
    expect(value(parseDuration('90', 'min'))).toBe(90);
    expect(value(parseDuration('1.5', 'h'))).toBe(90);
  });

  it('are refused with a sentence when they make no sense', () => {
    expect(sentence(parseDuration(''))).toBe('Enter a time, for example 1 h 30 min.');
    expect(sentence(parseDuration('-2 h'))).toBe(
      'A time cannot be negative. Enter it without the minus sign.',
    );
    expect(sentence(parseDuration('2:75'))).toBe(
      '“2:75” has 75 minutes; an hour has 60. Write it like 2:15.',
    );
    expect(sentence(parseDuration('20000 h'))).toBe('“20000 h” is more than 10000 hours. Check the number.');
    for (const typed of ['soon', 'h', '2 h 30 h', '1/0 h', '2 days', '2 h 3 x']) {
      expect(sentence(parseDuration(typed))).toContain('is not a time that can be read');
    }
  });

  it('are read back as written', () => {
    fc.assert(
      fc.property(fc.nat(500_000), (minutes) => value(parseDuration(minutesText(minutes))) === minutes),
    );
  });
});

/** Reads the cells of one line; what cannot be read becomes a problem with its line and field. */
import type { Parsed } from '../../api/contract.ts';
import type { ImportProblem } from '../../api/imports.ts';
import { isDay } from '../../domain/calendar.ts';
import { parseDuration } from '../../domain/durations.ts';
import { parseMicro, parseMoney } from '../../domain/money.ts';
import type { Outcome } from '../../domain/outcome.ts';
import type { CsvRow } from './csv.ts';

export type Habits = Pick<Parsed<'imports.check'>, 'dateOrder' | 'decimalMark' | 'mapping'>;

/** One line being read. */
export interface Line {
  readonly line: number;
  /** Text of a field; empty when the field has no column. */
  text(field: string): string;
  /** Text that must be there. */
  required(field: string, what: string): string | null;
  date(field: string, today: string): string | null;
  /** Amount in the minor unit; `whenEmpty` when nothing is written. */
  minor(field: string, decimals: number, whenEmpty?: number): number | null;
  /** Amount in millionths of the currency unit. */
  micro(field: string, whenEmpty?: number): number | null;
  minutes(field: string, bare: 'min' | 'h' | undefined): number | null;
  /** Takes the value out of an outcome, or notes why there is none. */
  take<T>(field: string, outcome: Outcome<T>): T | null;
  /** Notes a problem. */
  problem(field: string | null, message: string): null;
  /** A number in the file's own habit, rewritten with a point for the decimals. */
  plainNumber(text: string): string | undefined;
}

const ORDERS = { ymd: [0, 1, 2], dmy: [2, 1, 0], mdy: [2, 0, 1] } as const;

/** Two digits of a year are of this century. */
const fullYear = (year: string): string => (year.length === 2 ? `20${year}` : year.padStart(4, '0'));

function readDay(text: string, order: Habits['dateOrder']): string | undefined {
  if (isDay(text)) return text;
  const parts = /^(\d{1,4})\s*[./-]\s*(\d{1,2})\s*[./-]\s*(\d{1,4})\.?$/.exec(text)?.slice(1);
  const [year = '', month = '', day = ''] = ORDERS[order].map((at) => parts?.[at] ?? '');
  if (day.length > 2 || (year.length !== 2 && year.length !== 4)) return undefined;
  const iso = `${fullYear(year)}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
  return isDay(iso) ? iso : undefined;
}

const POINT = /^(\d{1,3}(,\d{3})+|\d*)(\.\d*)?$/;
const COMMA = /^(\d{1,3}(\.\d{3})+|\d*)(,\d*)?$/;

const NUMBERS = /\d[\d.,]*\d|[.,]?\d+/g;

/** Takes the group signs out of every number and writes its decimals with a point; undefined when a number breaks the habit. */
function withPoint(text: string, mark: Habits['decimalMark']): string | undefined {
  const habit = mark === '.' ? POINT : COMMA;
  if (!(text.match(NUMBERS) ?? []).every((number) => habit.test(number))) return undefined;
  return text.replace(NUMBERS, (number) =>
    mark === '.' ? number.replaceAll(',', '') : number.replaceAll('.', '').replace(',', '.'),
  );
}

const example: Readonly<Record<Habits['dateOrder'], string>> = {
  ymd: '2024-07-06',
  dmy: '6.7.2024',
  mdy: '7/6/2024',
};

/** Makes the reader of one line. @param problems where what cannot be read is noted */
export function lineReader(row: CsvRow, habits: Habits, problems: ImportProblem[]): Line {
  const text = (field: string): string => row.cells[habits.mapping[field] ?? -1] ?? '';
  const problem = (field: string | null, message: string): null => {
    problems.push({ line: row.line, field, message });
    return null;
  };
  const take = <T>(field: string, outcome: Outcome<T>): T | null =>
    outcome.ok ? outcome.value : problem(field, outcome.message);
  const plainNumber = (typed: string): string | undefined => withPoint(typed, habits.decimalMark);
  const amount = (
    field: string,
    whenEmpty: number | undefined,
    read: (plain: string) => Outcome<number>,
  ): number | null => {
    const typed = text(field);
    if (typed === '' && whenEmpty !== undefined) return whenEmpty;
    const plain = plainNumber(typed);
    if (plain === undefined)
      return problem(field, `“${typed}” does not fit the decimal sign chosen for this file.`);
    const value = take(field, read(plain));
    return value !== null && value < 0 ? problem(field, 'An amount here cannot be below zero.') : value;
  };
  return {
    line: row.line,
    text,
    problem,
    take,
    plainNumber,
    required: (field, what) => (text(field) === '' ? problem(field, `${what} is missing.`) : text(field)),
    date(field, today) {
      const typed = text(field);
      const day = readDay(typed, habits.dateOrder);
      if (typed === '') return problem(field, 'The date is missing.');
      if (day === undefined) {
        return problem(
          field,
          `“${typed}” is not a date in the order chosen for this file, for example ${example[habits.dateOrder]}.`,
        );
      }
      return day > today
        ? problem(field, `${day} is still to come. Check the year and the order of day and month.`)
        : day;
    },
    minor: (field, decimals, whenEmpty) => amount(field, whenEmpty, (plain) => parseMoney(plain, decimals)),
    micro: (field, whenEmpty) => amount(field, whenEmpty, parseMicro),
    minutes(field, bare) {
      const minutes = take(field, parseDuration(plainNumber(text(field)) ?? text(field), bare));
      if (minutes === null) return null;
      if (minutes < 1) return problem(field, 'A session needs at least one minute.');
      return minutes > 24 * 60
        ? problem(field, 'One session cannot be longer than a day. Split it over the days.')
        : minutes;
    },
  };
}

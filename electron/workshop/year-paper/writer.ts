/** How figures of the yearly report are written in a language, and the rows its tables are made of. */
import type { YearFigure } from '../../api/year.ts';
import type { ReportChart, ReportRow, ReportTable, ReportText } from '../../documents/report-types.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { roundHalfAway } from '../../domain/integers.ts';
import { decimalText } from '../../domain/rational.ts';
import { dateIn, moneyIn, numberIn, percentIn, type PaperWords, wordsFor } from '../paper-words/index.ts';

export type YearWords = PaperWords['year'];

export interface Writer {
  readonly words: YearWords;
  readonly currency: string;
  readonly decimals: number;
  readonly money: (minor: number) => string;
  /** Hours with two decimals. */
  readonly hours: (minutes: number) => string;
  readonly whole: (value: number) => string;
  readonly percent: (ppm: number) => string;
  readonly day: (iso: string) => string;
  /** Days within a sentence. */
  readonly daysIn: (text: string) => string;
  /** A figure by its own unit; a dash where it cannot be told. */
  readonly figure: (unit: YearFigure['unit'], value: number | null) => string;
  /** In this language where it is known, else as the report has it. */
  readonly label: (key: string, own: string) => string;
}

const MINUTES = 60;
const DASH = '–';

export function writerOf(language: string, currency: string): Writer {
  const words = wordsFor(language).year;
  const money = (minor: number): string => moneyIn(language, minor, currency);
  // Hundredths of an hour, rounded once.
  const hours = (minutes: number): string =>
    numberIn(language, decimalText(roundHalfAway(minutes * 100, MINUTES), 2));
  const whole = (value: number): string => numberIn(language, String(value));
  const day = (iso: string): string => dateIn(language, iso);
  return {
    words,
    currency,
    decimals: decimalsOf(currency),
    money,
    hours,
    whole,
    percent: (ppm) => percentIn(language, ppm),
    day,
    daysIn: (text) => text.replace(/\b\d{4}-\d{2}-\d{2}\b/g, day),
    figure(unit, value) {
      if (value === null) return DASH;
      if (unit === 'minutes') return hours(value);
      return unit === 'count' ? whole(value) : money(value);
    },
    label: (key, own) => words.figures[key] ?? own,
  };
}

export const row = (cells: readonly string[], detail = ''): ReportRow => ({
  cells,
  detail,
  sum: false,
  strong: false,
});

/** A row that adds up what stands over it. */
export const sumRow = (cells: readonly string[]): ReportRow => ({ ...row(cells), sum: true });

export const table = (
  heading: string,
  intro: string,
  heads: readonly string[],
  rows: readonly ReportRow[],
  texts: readonly number[] = [],
): ReportTable => ({ kind: 'table', heading, intro, heads, texts, rows });

export const text = (heading: string, paragraphs: readonly string[]): ReportText => ({
  kind: 'text',
  heading,
  paragraphs,
});

export const chart = (heading: string, alt: string, drawn: ReportChart['chart']): ReportChart => ({
  kind: 'chart',
  heading,
  alt,
  chart: drawn,
});

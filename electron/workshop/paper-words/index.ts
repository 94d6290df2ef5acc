/** The languages of papers: their words, and how they write days and figures. */
import { dayParts, isDay } from '../../domain/calendar.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { decimalText, trimZeros } from '../../domain/rational.ts';
import { de } from './de.ts';
import { en, type PaperWords } from './en.ts';

export type { PaperWords } from './en.ts';

interface Habit {
  readonly words: PaperWords;
  readonly point: string;
  readonly thousands: string;
  day(parts: { readonly year: number; readonly month: number; readonly day: number }): string;
}

const two = (value: number): string => String(value).padStart(2, '0');
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];

const habits = {
  en: {
    words: en,
    point: '.',
    thousands: ',',
    day: ({ year, month, day }) => `${day} ${months[month - 1] ?? ''} ${year}`,
  },
  // DIN 5008: day, month and year with points; a point groups thousands of money.
  de: {
    words: de,
    point: ',',
    thousands: '.',
    day: ({ year, month, day }) => `${two(day)}.${two(month)}.${year}`,
  },
} as const satisfies Record<string, Habit>;

/** A language papers can be written in, ISO 639-1. */
export type PaperLanguage = keyof typeof habits;

/** Languages of papers, in the order they are offered. */
export const paperLanguages = Object.keys(habits) as readonly PaperLanguage[];

/** The language itself where papers know it, else English. */
export const knownLanguage = (language: string): PaperLanguage =>
  paperLanguages.find((known) => known === language) ?? 'en';

const habitOf = (language: string): Habit => habits[knownLanguage(language)];

/** Every phrase in a language; in English where it is not known. */
export const wordsFor = (language: string): PaperWords => habitOf(language).words;

/** A day as a reader of the language writes it; a text that is no day stays as it is. */
export const dateIn = (language: string, iso: string): string =>
  isDay(iso) ? habitOf(language).day(dayParts(iso)) : iso;

/** A decimal number with a point, in the signs of the language, thousands grouped. */
export function numberIn(language: string, plain: string): string {
  const { point, thousands } = habitOf(language);
  const [whole = '', part] = plain.split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, thousands);
  return part === undefined ? grouped : `${grouped}${point}${part}`;
}

/** A selling amount without its sign, e.g. `1,280.00` or `1.280,00`. @param currency ISO 4217 code */
export const moneyIn = (language: string, minor: number, currency: string): string =>
  numberIn(language, decimalText(minor, decimalsOf(currency)));

/** `65 000` as `6.5 %` or `6,5 %`. @param ppm parts per million */
export const percentIn = (language: string, ppm: number): string =>
  `${numberIn(language, trimZeros(decimalText(ppm, 4)))} %`;

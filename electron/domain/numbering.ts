/**
 * Numbers of invoices from a pattern: text with `{YYYY}` or `{YY}` for the year, `{MM}` for the month, and one counter
 * `{N}` … `{NNNNNNNN}`, as many digits at least. The counter starts again at 1 whenever the year or month in the pattern changes.
 */
import { dayParts } from './calendar.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

interface Part {
  readonly kind: 'text' | 'year4' | 'year2' | 'month' | 'counter';
  readonly text: string;
}

const TOKEN = /\{([^{}]*)\}|([^{}]+)|[{}]/g;

const toPart = (token: string): Part | undefined => {
  if (token === '{YYYY}') return { kind: 'year4', text: token };
  if (token === '{YY}') return { kind: 'year2', text: token };
  if (token === '{MM}') return { kind: 'month', text: token };
  if (/^\{N{1,8}\}$/.test(token)) return { kind: 'counter', text: token };
  return /^[\p{L}\d\-._/ ]+$/u.test(token) ? { kind: 'text', text: token } : undefined;
};

const count = (parts: readonly Part[], ...kinds: readonly Part['kind'][]): number =>
  parts.filter((part) => kinds.includes(part.kind)).length;

const checkParts = (parts: readonly Part[]): string | undefined => {
  if (count(parts, 'counter') === 0)
    return 'The pattern needs the counter, for example {NNNN}: without it every invoice would have the same number.';
  if (count(parts, 'counter') > 1) return 'The pattern may hold the counter only once.';
  if (count(parts, 'year4', 'year2') > 1 || count(parts, 'month') > 1)
    return 'The pattern may hold the year and the month only once each.';
  if (count(parts, 'month') > 0 && count(parts, 'year4', 'year2') === 0) {
    return 'A pattern with the month needs the year too, or numbers would repeat next year.';
  }
  const counter = parts.findIndex((part) => part.kind === 'counter');
  const touches = [parts[counter - 1], parts[counter + 1]].some(
    (part, side) =>
      part !== undefined && (part.kind !== 'text' || /\d/.test(part.text.at(side === 0 ? -1 : 0) ?? '')),
  );
  return touches
    ? 'Put a sign such as - between the counter and other digits, so that the number can be read back.'
    : undefined;
};

/** Parts of a pattern, or what is wrong with it. */
const readPattern = (pattern: string): Outcome<readonly Part[]> => {
  if (pattern.trim() === '') return refuse('Enter a pattern, for example {YYYY}-{NNNN}.');
  if (pattern !== pattern.trim()) return refuse('The pattern must not begin or end with a space.');
  const parts: Part[] = [];
  for (const [token] of pattern.matchAll(TOKEN)) {
    const part = toPart(token);
    if (part === undefined) {
      return refuse(
        `“${token}” cannot stand in the pattern. Use {YYYY}, {YY}, {MM}, {NNNN}, letters, digits and - . _ /.`,
      );
    }
    parts.push(part);
  }
  const fault = checkParts(parts);
  return fault === undefined ? ok(parts) : refuse(fault);
};

/** Checks a numbering pattern. Answers an example number in it. */
export const validatePattern = (pattern: string, day = '2024-07-06'): Outcome<string> => {
  const parts = readPattern(pattern);
  return parts.ok ? formatNumber(pattern, { counter: 1, day }) : parts;
};

/** Writes the number of a counter on a day. Refuses a bad pattern or a counter below 1. */
export const formatNumber = (
  pattern: string,
  at: { readonly counter: number; readonly day: string },
): Outcome<string> => {
  const parts = readPattern(pattern);
  if (!parts.ok) return parts;
  if (!Number.isSafeInteger(at.counter) || at.counter < 1) return refuse('Numbers begin at 1.');
  const { year, month } = dayParts(at.day);
  const write = (part: Part): string => {
    if (part.kind === 'year4') return String(year).padStart(4, '0');
    if (part.kind === 'year2') return String(year % 100).padStart(2, '0');
    if (part.kind === 'month') return String(month).padStart(2, '0');
    return part.kind === 'counter' ? String(at.counter).padStart(part.text.length - 2, '0') : part.text;
  };
  return ok(parts.value.map(write).join(''));
};

export interface NumberReading {
  readonly counter: number;
  /** Year as written in the number, two or four digits; absent when the pattern has none. */
  readonly year?: number;
  readonly month?: number;
}

const escape = (text: string): string => text.replace(/[.*+?^${}()|[\]\\/-]/g, String.raw`\$&`);

const toSource = (part: Part): string => {
  if (part.kind === 'year4') return String.raw`(?<year>\d{4})`;
  if (part.kind === 'year2') return String.raw`(?<year>\d{2})`;
  if (part.kind === 'month') return String.raw`(?<month>0[1-9]|1[0-2])`;
  if (part.kind === 'text') return escape(part.text);
  return String.raw`(?<counter>\d{${String(part.text.length - 2)},15})`;
};

/** Reads a number back. Refuses one that does not follow the pattern. */
export const parseNumber = (pattern: string, text: string): Outcome<NumberReading> => {
  const parts = readPattern(pattern);
  if (!parts.ok) return parts;
  const groups = new RegExp(`^${parts.value.map(toSource).join('')}$`).exec(text)?.groups;
  const counter = Number(groups?.['counter']);
  if (groups === undefined || counter < 1) return refuse(`“${text}” does not follow the pattern ${pattern}.`);
  return ok({
    counter,
    ...(groups['year'] === undefined ? {} : { year: Number(groups['year']) }),
    ...(groups['month'] === undefined ? {} : { month: Number(groups['month']) }),
  });
};

/** Numbers of the same run share year and month as far as the pattern writes them. */
const sameRun = (a: NumberReading, b: NumberReading): boolean => a.year === b.year && a.month === b.month;

/**
 * The next number of a run without gaps: one above the highest counter already issued in the same year or month.
 * Issued numbers that do not follow the pattern belong to another series and are left out.
 */
export const nextNumber = (pattern: string, day: string, issued: readonly string[]): Outcome<string> => {
  const first = formatNumber(pattern, { counter: 1, day });
  if (!first.ok) return first;
  const run = parseNumber(pattern, first.value);
  if (!run.ok) return run;
  const highest = issued.reduce((top, text) => {
    const read = parseNumber(pattern, text);
    return read.ok && sameRun(read.value, run.value) ? Math.max(top, read.value.counter) : top;
  }, 0);
  return formatNumber(pattern, { counter: highest + 1, day });
};

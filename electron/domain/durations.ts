/** Lengths of time as a person says them; in the books whole minutes. */
import { readNumber } from './fractions.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import { plus, rational, times, toInteger } from './rational.ts';
import type { Rational } from './rational.ts';

/** `410` as `6 h 50 min`, `45` as `45 min`, `120` as `2 h`. */
export const minutesText = (minutes: number): string => {
  const size = Math.abs(minutes);
  const hours = Math.floor(size / 60);
  const rest = size % 60;
  const parts = [
    hours === 0 ? '' : `${String(hours)} h`,
    rest === 0 && hours !== 0 ? '' : `${String(rest)} min`,
  ];
  return `${minutes < 0 ? '-' : ''}${parts.filter((part) => part !== '').join(' ')}`;
};

const notRead = (text: string): Outcome<never> =>
  refuse(
    `“${text.trim()}” is not a time that can be read. Write it like 2 h, 1 h 30 min, 90 min, 1.5 h or 2:15.`,
  );

const clockText = (text: string): Outcome<number> | undefined => {
  const match = /^(\d+):(\d{2})(?:\s*h)?$/.exec(text);
  if (match === null) return undefined;
  const minutes = Number(match[2]);
  if (minutes > 59)
    return refuse(`“${text}” has ${String(minutes)} minutes; an hour has 60. Write it like 2:15.`);
  return ok(Number(match[1]) * 60 + minutes);
};

const HOURS = String.raw`(?:h|hr|hrs|hour|hours)\.?`;
const MINUTES = String.raw`(?:m|min|mins|minute|minutes)\.?`;
const SPOKEN = new RegExp(
  String.raw`^(?:([^a-z]+?)\s*${HOURS})?\s*(?:and\s+)?(?:([^a-z]+?)\s*${MINUTES}|(\d{1,2}))?$`,
  'i',
);

const inMinutes = (text: string | undefined, factor: number): Rational | undefined => {
  if (text === undefined) return rational(0);
  const reading = readNumber(text);
  return 'value' in reading ? times(reading.value, rational(factor)) : undefined;
};

const spoken = (text: string): Rational | undefined => {
  const match = SPOKEN.exec(text);
  if (match === null || (match[1] === undefined && match[2] === undefined)) return undefined;
  const hours = inMinutes(match[1], 60);
  const minutes = inMinutes(match[2] ?? match[3], 1);
  return hours === undefined || minutes === undefined ? undefined : plus(hours, minutes);
};

const HOURS_AT_MOST = 10_000;

/**
 * Reads a length of time into whole minutes: `2 h`, `1h30`, `90 min`, `1.5 h`, `1 1/2 h`, `2:15`.
 * @param bare what a number without a unit means; refused unless given
 */
export const parseDuration = (text: string, bare?: 'min' | 'h'): Outcome<number> => {
  const typed = text.trim().toLowerCase();
  if (typed === '') return refuse('Enter a time, for example 1 h 30 min.');
  if (/^[-−–]/.test(typed)) return refuse('A time cannot be negative. Enter it without the minus sign.');
  const clock = clockText(typed);
  if (clock !== undefined) return clock;
  const plain = /\p{L}/u.test(typed) ? undefined : readNumber(typed);
  if (plain !== undefined && bare === undefined) {
    return refuse(`Is “${typed}” hours or minutes? Write it like 2 h or 90 min.`);
  }
  const value = plain === undefined ? spoken(typed) : inMinutes(typed, bare === 'h' ? 60 : 1);
  if (value === undefined) return notRead(text);
  if (value.n > BigInt(HOURS_AT_MOST * 60) * value.d)
    return refuse(`“${typed}” is more than ${String(HOURS_AT_MOST)} hours. Check the number.`);
  return ok(toInteger(value));
};

/**
 * Money in two integer scales: costs in millionths of the currency unit (`Micro`), selling amounts in its minor unit
 * (`Minor`). Rounding is half away from zero, once, where a figure becomes a line a person sees.
 */
import { currencies, currencyOf, decimalsOf } from './currencies.ts';
import { mulDiv, roundHalfAway } from './integers.ts';
import { plainDecimal } from './number-text.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome, Refusal } from './outcome.ts';
import { compare, decimalText, fromDecimal, rational, toScaled } from './rational.ts';

/** Decimals of the cost scale. */
export const MICRO_DECIMALS = 6;

/** Costs to selling scale, rounded half away from zero. @param decimals of the currency's minor unit */
export const microToMinor = (micro: number, decimals: number): number =>
  roundHalfAway(micro, 10 ** (MICRO_DECIMALS - decimals));

/** Selling to cost scale, exact. @param decimals of the currency's minor unit */
export const minorToMicro = (minor: number, decimals: number): number =>
  mulDiv(minor, 10 ** (MICRO_DECIMALS - decimals), 1);

/** True when a selling amount can be told in the cost scale too. @param decimals of the currency's minor unit */
export const fitsMicro = (minor: number, decimals: number): boolean =>
  Math.abs(minor) <= Math.floor(Number.MAX_SAFE_INTEGER / 10 ** (MICRO_DECIMALS - decimals));

/** Puts a comma before every three digits of the whole part: `1280.00` becomes `1,280.00`. */
export const groupThousands = (plain: string): string =>
  plain.replace(/^-?\d+/, (whole) => whole.replace(/\B(?=(\d{3})+$)/g, ','));

export interface MoneyFormat {
  /** Write the currency's sign before the amount. */
  readonly symbol?: boolean;
}

const withSymbol = (text: string, code: string): string => {
  const sign = currencyOf(code)?.symbol ?? code;
  const gap = /\p{L}$/u.test(sign) ? ' ' : '';
  return text.startsWith('-') ? `-${sign}${gap}${text.slice(1)}` : `${sign}${gap}${text}`;
};

/**
 * Writes a selling amount, e.g. `1,280.00`, or `$1,280.00` with the symbol.
 * @param currency ISO 4217 code; settles the number of decimals
 */
export const formatMinor = (minor: number, currency: string, format: MoneyFormat = {}): string => {
  const text = groupThousands(decimalText(minor, decimalsOf(currency)));
  return format.symbol === true ? withSymbol(text, currency) : text;
};

const dropTo = (text: string, least: number): string => {
  const point = text.indexOf('.');
  if (point === -1) return text;
  const part = text
    .slice(point + 1)
    .replace(/0+$/, '')
    .padEnd(least, '0');
  return part === '' ? text.slice(0, point) : `${text.slice(0, point)}.${part}`;
};

/**
 * Writes an exact cost: at least the currency's decimals, at most `maxDecimals`, e.g. `19.113` or `24.00`.
 * @param currency ISO 4217 code
 */
export const formatMicro = (
  micro: number,
  currency: string,
  maxDecimals = 4,
  format: MoneyFormat = {},
): string => {
  const least = decimalsOf(currency);
  const scale = Math.min(MICRO_DECIMALS, Math.max(least, maxDecimals));
  const rounded = roundHalfAway(micro, 10 ** (MICRO_DECIMALS - scale));
  const text = groupThousands(dropTo(decimalText(rounded, scale), least));
  return format.symbol === true ? withSymbol(text, currency) : text;
};

const signedNumber = (typed: string): { negative: boolean; body: string } | undefined => {
  const text = typed.trim().replace(/[−–]/g, '-');
  const bracketed = /^\((.+)\)$/.exec(text);
  const inner = bracketed?.[1] ?? text;
  const signs = inner.replace(/[^-]/g, '').length;
  if (signs > 1 || (signs === 1 && bracketed !== null)) return undefined;
  if (signs === 1 && !/^\D*-/.test(inner) && !inner.endsWith('-')) return undefined;
  return { negative: signs === 1 || bracketed !== null, body: inner.replace('-', '') };
};

/** The largest single amount taken, in currency units: its cost still fits whole millionths. */
const LARGEST = rational(9_000_000_000n);

const SIGNS = new Set(currencies.flatMap((currency) => [currency.code, currency.symbol.toUpperCase()]));

const isSign = (text: string): boolean => /^\p{Sc}$/u.test(text) || SIGNS.has(text.toUpperCase());

/** Takes one currency sign or code off either end; other words are left, so that they are refused. */
const withoutSymbol = (typed: string): string => {
  const match = /^([^\d.,]*)(.*?)([^\d.,]*)$/s.exec(typed.trim());
  const [, before = '', number = '', after = ''] = match ?? [];
  const ends = [before.trim(), after.trim()].filter((end) => end !== '');
  return ends.length === 1 && ends.every(isSign) ? number : typed.trim();
};

/** `1.280` may be meant as 1280 or as 1.28; where money has fewer than three decimals it is neither guessed nor cut. */
const doubtful = (body: string, decimals: number): boolean =>
  decimals < 3 && /^[1-9]\d{0,2}\.\d{3}$/.test(body);

const checkDecimals = (typed: string, body: string, plain: string, decimals: number): Refusal | undefined => {
  if (doubtful(body, decimals)) {
    const [whole = '', part = ''] = body.split('.');
    return refuse(
      `“${typed}” can be read two ways. Write ${whole}${part} for the large amount, or fewer decimals for the small one.`,
    );
  }
  const part = plain.split('.')[1] ?? '';
  if (part.replace(/0+$/, '').length <= decimals) return undefined;
  return refuse(`“${typed}” has too many decimals: ${allowedDecimals(decimals)}`);
};

/** The typed amount as a whole number of `10^-decimals` units. See `number-text.ts` for how commas and points are read. */
export const parseMoney = (text: string, decimals: number): Outcome<number> => {
  const typed = text.trim();
  if (typed === '') return refuse('Enter an amount.');
  const signed = signedNumber(text);
  const body = signed === undefined ? '' : withoutSymbol(signed.body);
  const plain = plainDecimal(body);
  const value = plain === undefined ? undefined : fromDecimal(plain);
  if (plain === undefined || value === undefined) {
    return refuse(`“${typed}” is not an amount. Write it like ${exampleAmount(decimals)}.`);
  }
  const fault = checkDecimals(typed, body, plain, decimals);
  if (fault !== undefined) return fault;
  if (compare(value, LARGEST) > 0)
    return refuse(`“${typed}” is more than the books can hold. Check the number.`);
  const minor = toScaled(value, decimals);
  return ok(signed?.negative === true && minor !== 0 ? -minor : minor);
};

/** A typed unit cost in millionths of the currency unit; up to six decimals. */
export const parseMicro = (text: string): Outcome<number> => parseMoney(text, MICRO_DECIMALS);

const exampleAmount = (decimals: number): string =>
  decimals === 0 ? '1,280' : `1,280.${'0'.repeat(decimals)}`;

const allowedDecimals = (decimals: number): string =>
  decimals === 0 ? 'this currency has none.' : `at most ${String(decimals)} can be written here.`;

/** Fractions as a rule shows them: `3/16`, `1 1/2`, `1-1/2`, `2½`. */
import { plainDecimal } from './number-text.ts';
import { fromDecimal, plus, rational } from './rational.ts';
import type { Rational } from './rational.ts';

const GLYPHS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅓': '1/3',
  '⅔': '2/3',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

const spellGlyphs = (text: string): string =>
  text.replace(/[½¼¾⅓⅔⅛⅜⅝⅞]/g, (glyph) => ` ${GLYPHS[glyph] ?? ''}`).trim();

/** What a typed number can turn out to be. */
export type NumberReading =
  { readonly value: Rational } | { readonly fault: 'zero-denominator' | 'not-a-number' };

const fraction = (whole: string, top: string, bottom: string): NumberReading => {
  if (BigInt(bottom) === 0n) return { fault: 'zero-denominator' };
  return { value: plus(rational(BigInt(whole)), rational(BigInt(top), BigInt(bottom))) };
};

/** Reads a number without sign: decimal, fraction, or whole number and fraction. */
export const readNumber = (typed: string): NumberReading => {
  const text = spellGlyphs(typed.trim().replaceAll('⁄', '/'));
  const match = /^(?:(\d+)(?:\s+|\s*-\s*))?(\d+)\s*\/\s*(\d+)$/.exec(text);
  if (match !== null) return fraction(match[1] ?? '0', match[2] ?? '0', match[3] ?? '0');
  const plain = plainDecimal(text);
  const value = plain === undefined ? undefined : fromDecimal(plain);
  return value === undefined ? { fault: 'not-a-number' } : { value };
};

const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));

/**
 * Writes a whole number of `1/denominator` steps as a mixed fraction in lowest terms: `(24, 16)` is `1 1/2`.
 * @param steps zero or above
 */
export const mixedFraction = (steps: number, denominator: number): string => {
  const whole = Math.floor(steps / denominator);
  const rest = steps % denominator;
  if (rest === 0) return String(whole);
  const shared = gcd(rest, denominator);
  const part = `${String(rest / shared)}/${String(denominator / shared)}`;
  return whole === 0 ? part : `${String(whole)} ${part}`;
};

import { Decimal } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocate, mulDiv, roundHalfAway, sum, toSafe } from '../../electron/domain/integers.ts';

const whole = fc.integer({ min: -1_000_000_000, max: 1_000_000_000 });
const positive = fc.integer({ min: 1, max: 1_000_000_000 });

describe('whole-number arithmetic', () => {
  it('rounds halves away from zero on both sides', () => {
    expect([5, -5, 15, -15, 25, 4, -4].map((n) => roundHalfAway(n, 10))).toEqual([1, -1, 2, -2, 3, 0, 0]);
  });

  it('rounds the same on both sides of zero', () => {
    fc.assert(fc.property(whole, positive, (n, d) => roundHalfAway(n, d) + roundHalfAway(-n, d) === 0));
  });

  it('multiplies and divides like a decimal library with forty digits', () => {
    const Wide = Decimal.clone({ precision: 60 });
    fc.assert(
      fc.property(fc.maxSafeInteger(), positive, positive, (a, b, c) => {
        const wanted = new Wide(a).times(b).div(c).toDecimalPlaces(0, Decimal.ROUND_HALF_UP);
        fc.pre(wanted.abs().lte(Number.MAX_SAFE_INTEGER));
        expect(mulDiv(a, b, c)).toBe(wanted.plus(0).toNumber() || 0);
      }),
    );
  });

  it('does not lose a unit where binary floating point would', () => {
    expect(mulDiv(9_007_199_254_740_991, 999_999_999, 999_999_999)).toBe(9_007_199_254_740_991);
  });

  it('refuses division by zero and results beyond 2^53', () => {
    expect(() => mulDiv(1, 1, 0)).toThrow(RangeError);
    expect(() => toSafe(2n ** 53n)).toThrow(RangeError);
    expect(() => sum([Number.MAX_SAFE_INTEGER, 1])).toThrow(RangeError);
  });
});

describe('splitting a total', () => {
  it('gives the largest remainders the odd units, the earlier row first when they tie', () => {
    expect(allocate(100, [1, 1, 1])).toEqual([34, 33, 33]);
    expect(allocate(10, [1, 2, 3])).toEqual([2, 3, 5]);
    expect(allocate(1, [1, 1])).toEqual([1, 0]);
  });

  it('shares equally when no weight is above zero, and mirrors a negative total', () => {
    expect(allocate(7, [0, 0])).toEqual([4, 3]);
    expect(allocate(-100, [1, 1, 1])).toEqual([-34, -33, -33]);
    expect(allocate(0, [])).toEqual([]);
  });

  it('keeps the total exactly and stays within one unit of the true share', () => {
    const weights = fc.array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(whole, weights, (total, given) => {
        const parts = allocate(total, given);
        const all = given.reduce((a, b) => a + b, 0);
        expect(parts.reduce((a, b) => a + b, 0)).toBe(total);
        parts.forEach((part, at) => {
          const share = all === 0 ? total / given.length : (total * (given[at] ?? 0)) / all;
          expect(Math.abs(part - share)).toBeLessThan(1.000001);
        });
      }),
    );
  });

  it('refuses a negative weight and a total with nobody to take it', () => {
    expect(() => allocate(1, [1, -1])).toThrow(RangeError);
    expect(() => allocate(1, [])).toThrow(RangeError);
  });
});

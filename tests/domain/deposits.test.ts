import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  depositFor,
  type DepositRule,
  orderTotal,
  partDeposit,
  usualTerms,
} from '../../electron/domain/deposits.ts';

const rule = (more: Partial<DepositRule> = {}): DepositRule => ({
  percentPpm: 250_000,
  leastMinor: 0,
  specialPpm: 1_000_000,
  refundable: 'untilWork',
  keptPpm: 500_000,
  ...more,
});
const price = (priceMinor: number, optionsMinor = 0, specialMinor = 0) => ({
  priceMinor,
  optionsMinor,
  specialMinor,
});

describe('the deposit asked', () => {
  /** Published terms of a knife dealer: 25 % or 100.00, whichever is greater. */
  test.each([
    [30_000, 10_000],
    [40_000, 10_000],
    [40_004, 10_001],
    [100_000, 25_000],
    [9000, 9000],
  ])('a quarter, at least 100.00, of %i is %i', (whole, deposit) => {
    expect(depositFor(rule({ leastMinor: 10_000 }), price(whole))).toBe(deposit);
  });

  /** A dealer's published advice: nothing for a standard model, the whole of special material. */
  test('asks the special material in full beside a share of the rest', () => {
    expect(depositFor(rule({ percentPpm: 0 }), price(60_000, 0, 18_000))).toBe(18_000);
    expect(depositFor(usualTerms, price(50_000, 5000, 20_000))).toBe(16_500 + 20_000);
  });
});

describe('a cancelled deposit', () => {
  /** Published terms of a maker's project edition: three quarters of 100.00 go back until the prototype is shown. */
  test('keeps a quarter where three quarters go back', () => {
    expect(partDeposit(rule({ refundable: 'never', keptPpm: 250_000 }), 10_000, false)).toMatchObject({
      keptMinor: 2500,
      refundMinor: 7500,
    });
  });

  test.each([
    ['always', true, 0],
    ['untilWork', false, 0],
    ['untilWork', true, 4275],
    ['never', false, 4275],
  ] as const)('%s refundable, steel cut %s: %i kept of 85.50', (refundable, begun, kept) => {
    expect(partDeposit(rule({ refundable }), 8550, begun)).toMatchObject({
      keptMinor: kept,
      refundMinor: 8550 - kept,
    });
  });

  test('loses no cent, and asks no more than the knife costs', () => {
    const ppm = fc.integer({ min: 0, max: 1_000_000 });
    const money = fc.integer({ min: 0, max: 1e9 });
    const rules = fc.record({
      percentPpm: ppm,
      leastMinor: money,
      specialPpm: ppm,
      refundable: fc.constantFrom('always' as const, 'untilWork' as const, 'never' as const),
      keptPpm: ppm,
    });
    fc.assert(
      fc.property(rules, money, money, money, fc.boolean(), (one, knife, options, special, begun) => {
        const what = price(knife, options, special);
        const deposit = depositFor(one, what);
        expect(deposit).toBeLessThanOrEqual(orderTotal(what));
        expect(deposit).toBeGreaterThanOrEqual(Math.min(one.leastMinor, orderTotal(what)));
        const parted = partDeposit(one, deposit, begun);
        expect(parted.keptMinor + parted.refundMinor).toBe(deposit);
        expect(Math.min(parted.keptMinor, parted.refundMinor)).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 60 },
    );
  });
});

/** Figures for tests, scaled by another library than the one under test. */
import { Decimal } from 'decimal.js';
import { expect } from 'vitest';
import type { Outcome } from '../../electron/domain/outcome.ts';

/** Currency units to millionths. */
export const micro = (amount: string | number): number => new Decimal(amount).times(1_000_000).toNumber();

/** Currency units to hundredths. */
export const cents = (amount: string | number): number => new Decimal(amount).times(100).toNumber();

/** The value of a good outcome; fails the test with the refusal's own sentence otherwise. */
export const value = <T>(outcome: Outcome<T>): T => {
  if (!outcome.ok) throw new Error(`refused: ${outcome.message}`);
  return outcome.value;
};

/** The sentence of a refusal; fails the test when there is a value. */
export const sentence = (outcome: Outcome<unknown>): string => {
  expect(outcome.ok).toBe(false);
  return outcome.ok ? '' : outcome.message;
};

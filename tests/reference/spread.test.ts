/**
 * Summary statistics against the certified values of the NIST Statistical Reference Datasets, univariate summary
 * statistics (NumAcc1 to NumAcc4 and their certified mean and standard deviation, from memory). They are built to catch
 * programs that lose the spread of large figures that lie close together.
 */
import { describe, expect, it } from 'vitest';
import { spreadOf } from '../../electron/domain/spread.ts';

/** The first figure, then the two others in turn up to 1001 figures in all. */
const inTurn = (first: number, low: number, high: number): readonly number[] => [
  first,
  ...Array.from({ length: 1000 }, (_, at) => (at % 2 === 0 ? low : high)),
];

describe('the spread of figures', () => {
  it.each([
    ['NumAcc1', [10_000_001, 10_000_003, 10_000_002], 10_000_002, 1, 12],
    ['NumAcc2', inTurn(1.2, 1.1, 1.3), 1.2, 0.1, 12],
    ['NumAcc3', inTurn(1_000_000.2, 1_000_000.1, 1_000_000.3), 1_000_000.2, 0.1, 8],
    ['NumAcc4', inTurn(10_000_000.2, 10_000_000.1, 10_000_000.3), 10_000_000.2, 0.1, 7],
  ] as const)('is the certified one for %s', (_name, values, mean, sd, digits) => {
    const spread = spreadOf(values);
    expect(spread?.mean).toBeCloseTo(mean, digits - 2);
    expect(spread?.sd ?? 0).toBeCloseTo(sd, digits - 2);
    expect(spread?.n).toBe(values.length);
  });

  it('has the middle of an even and of an odd number of figures, and no deviation of one (common definition)', () => {
    expect(spreadOf([5, 1, 3])).toEqual({ n: 3, mean: 3, median: 3, sd: 2, least: 1, most: 5 });
    expect(spreadOf([4, 1, 3, 2])?.median).toBe(2.5);
    expect(spreadOf([7])).toEqual({ n: 1, mean: 7, median: 7, sd: null, least: 7, most: 7 });
    expect(spreadOf([])).toBeNull();
  });
});

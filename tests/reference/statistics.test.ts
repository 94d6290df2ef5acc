/** Published values for the statistics behind trials, quotes and promises; each block names its source. */
import jstat from 'jstat';
import * as simple from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { bootstrapInterval, drawnMeans } from '../../electron/domain/bootstrap.ts';
import { quantilesOf } from '../../electron/domain/quantiles.ts';
import { chanceFrom } from '../../electron/domain/random.ts';
import { leastSquares, medianSlope } from '../../electron/domain/regression.ts';
import { spreadOf } from '../../electron/domain/spread.ts';
import { tFor, twoSided } from '../../electron/domain/student-t.ts';
import { welch } from '../../electron/domain/welch.ts';

const numbers = (text: string): number[] => text.trim().split(/\s+/).map(Number);
const worked = (first: string, second: string) => {
  const found = welch(numbers(first), numbers(second));
  if (!found.ok) throw new Error(found.message);
  return found.value;
};

describe('Welch’s test', () => {
  it('gives the values of R for two samples of fifteen (published in at least eight test suites; read)', () => {
    const found = worked(
      '27.5 21.0 19.0 23.6 17.0 17.9 16.9 20.1 21.9 22.6 23.1 19.6 19.0 21.7 21.4',
      '27.1 22.0 20.8 23.4 23.4 23.5 25.8 22.0 24.8 20.2 21.9 22.1 22.9 20.5 24.4',
    );
    expect(found.t).toBeCloseTo(-2.455356398286006, 10);
    expect(found.df).toBeCloseTo(24.988529290231416, 9);
    expect(found.p).toBeCloseTo(0.021378001462867, 11);
    expect(found.low).toBeCloseTo(-3.98409625405368, 7);
    expect(found.high).toBeCloseTo(-0.349237079279662, 7);
  });
  it('gives the values of the screws (encyclopaedia example; t and pooled p read, the rest recomputed)', () => {
    const found = worked('30.02 29.99 30.11 29.97 30.01 29.99', '29.89 29.93 29.72 29.98 30.02 29.98');
    expect([found.t, found.df, found.p]).toEqual([
      expect.closeTo(1.9590058081, 9),
      expect.closeTo(7.0305599599, 9),
      expect.closeTo(0.090773324285671, 11),
    ]);
  });
  it('gives the values of Student’s sleep data (R documentation, from memory, recomputed)', () => {
    const found = worked(
      '0.7 -1.6 -0.2 -1.2 -0.1 3.4 3.7 0.8 0.0 2.0',
      '1.9 0.8 1.1 0.1 -0.1 4.4 5.5 1.6 4.6 3.4',
    );
    expect([found.t, found.df, found.p]).toEqual([
      expect.closeTo(-1.86081347, 7),
      expect.closeTo(17.77647352, 7),
      expect.closeTo(0.07939414, 7),
    ]);
  });
  it('says why where nothing can be said', () => {
    expect(welch([5], [3, 4]).ok).toBe(false);
    expect(welch([5, 5], [3, 3])).toEqual({
      ok: false,
      message: expect.stringContaining('exactly the same') as string,
    });
  });
});

describe('Student’s t against a general library (jstat, which is good to about seven digits)', () => {
  it.each([
    [0.3, 1.2],
    [1.96, 7.03],
    [2.5, 24.99],
    [-4, 3],
    [0.05, 200],
  ])('t %d with %d degrees', (t, df) => {
    expect(twoSided(t, df)).toBeCloseTo(2 * (1 - jstat.studentt.cdf(Math.abs(t), df)), 6);
  });
  it.each([
    [0.05, 1],
    [0.05, 7.03],
    [0.2, 30],
  ])('passed with %d at %d degrees', (chance, df) => {
    expect(tFor(chance, df)).toBeCloseTo(jstat.studentt.inv(1 - chance / 2, df), 6);
  });
});

describe('quantiles of type 7', () => {
  it('are those of the statistics library of another language (Statistics.jl test suite; read)', () => {
    expect(quantilesOf([2, 3, 4, 6, 9, 2, 6, 2, 21, 17], [0, 0.2, 0.4, 0.6, 0.8, 1])).toEqual(
      [2, 2, 3.6, 6, 10.6, 21].map((value) => expect.closeTo(value, 12) as number),
    );
    const hundred = Array.from({ length: 100 }, (_, at) => at + 1);
    expect(quantilesOf(hundred, [0, 0.25, 0.5, 0.75, 1])).toEqual([1, 25.75, 50.5, 75.25, 100]);
  });
  it('interpolate at other places too: those of another library, alpha and beta 0.4 (same test suite; read)', () => {
    // Type 7 lies at (n − 1)·p; theirs at n·p + 0.4 + 0.2·p − 1, which is another share of the same list.
    const v = [2, 3, 4, 6, 9, 2, 6, 2, 21, 17];
    const theirs = (p: number): number => (v.length * p + 0.4 + 0.2 * p - 1) / (v.length - 1);
    expect(quantilesOf(v, [theirs(0.4), theirs(0.8)])).toEqual([
      expect.closeTo(3.48, 12),
      expect.closeTo(13.48, 12),
    ]);
  });
  it('are the quartiles of a known list (numpy; calculated)', () => {
    expect(quantilesOf(numbers('6 7 15 36 39 40 41 42 43 47 49'), [0.25, 0.5, 0.75])).toEqual([
      25.5, 40, 42.5,
    ]);
  });
});

describe('a line through points', () => {
  const y =
    numbers(`0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3 448.9 10.8
    557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6 228.9 668.4 449.2 0.2`);
  const x =
    numbers(`0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0 447.5 11.6
    556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3 229.2 669.1 448.9 0.5`);
  const points = x.map((value, at) => ({ x: value, y: y[at] ?? 0 }));

  it('has the certified values of NIST’s Norris data (read)', () => {
    const line = leastSquares(points);
    expect(line?.n).toBe(36);
    expect(line?.slope).toBeCloseTo(1.00211681802045, 11);
    expect(line?.intercept).toBeCloseTo(-0.262323073774029, 9);
    expect(line?.slopeError).toBeCloseTo(0.429796848199937e-3, 12);
    expect(line?.interceptError).toBeCloseTo(0.232818234301152, 9);
    expect(line?.rSquared).toBeCloseTo(0.999993745883712, 12);
    expect(line?.residualSquares).toBeCloseTo(26.6173985294224, 7);
  });
  it('agrees with a general library (simple-statistics)', () => {
    const other = simple.linearRegression(points.map((point) => [point.x, point.y]));
    const line = leastSquares(points);
    expect([line?.slope, line?.intercept]).toEqual([expect.closeTo(other.m, 10), expect.closeTo(other.b, 8)]);
  });
  it('has Sen’s slope of 4 for Sen’s own example (1968; read) and 0.5 for a short one (read)', () => {
    const sen = [1, 2, 3, 4, 10, 12, 18].map((at, i) => ({ x: at, y: [9, 15, 19, 20, 45, 55, 78][i] ?? 0 }));
    expect(medianSlope(sen)).toEqual({ slope: 4, intercept: 4 });
    expect(
      medianSlope([
        { x: 0, y: 0 },
        { x: 1, y: 1 },
        { x: 2, y: 1 },
      ]),
    ).toEqual({ slope: 0.5, intercept: 0.5 });
    expect(
      medianSlope([
        { x: 1, y: 2 },
        { x: 1, y: 3 },
      ]),
    ).toBeUndefined();
  });
});

describe('the bootstrap', () => {
  const sdOf = (values: readonly number[]): number => spreadOf(values)?.sd ?? Number.NaN;

  it('draws the means of 1, 2, 3 as often as counting all 27 says (exact; within three standard errors)', () => {
    const drawn = drawnMeans([1, 2, 3], 20240701);
    const share = drawn.filter((value) => Math.abs(value - 2) < 1e-9).length / drawn.length;
    expect(Math.abs(share - 7 / 27)).toBeLessThan(3 * Math.sqrt(((7 / 27) * (20 / 27)) / drawn.length));
    expect(sdOf(drawn) ** 2).toBeCloseTo(2 / 9, 1);
  });
  it('finds the ideal standard error of the treated mice, 23.36 (Efron and Tibshirani; from memory, recomputed)', () => {
    const treated = [94, 197, 16, 38, 99, 141, 23];
    const drawn = drawnMeans(treated, 1);
    // The standard error of a standard deviation of B drawings is about itself ÷ √(2B).
    expect(Math.abs(sdOf(drawn) - 23.3635)).toBeLessThan((3 * 23.36) / Math.sqrt(2 * drawn.length));
    expect(spreadOf(treated)?.mean).toBeCloseTo(86.857, 3);
    expect(sdOf(treated) / Math.sqrt(7)).toBeCloseTo(25.24, 2);
  });
  it('finds means and standard errors of both groups of mice: 56.22 ± 14.16, and 30.63 ± 28.94 apart (same source)', () => {
    const [treated, control] = [
      [94, 197, 16, 38, 99, 141, 23],
      [52, 104, 146, 10, 51, 30, 40, 27, 46],
    ] as const;
    const [a, b] = [treated, control].map((values) => ({
      mean: spreadOf(values)?.mean ?? Number.NaN,
      se: sdOf(values) / Math.sqrt(values.length),
    }));
    expect([b?.mean, b?.se]).toEqual([expect.closeTo(56.22, 2), expect.closeTo(14.16, 2)]);
    expect((a?.mean ?? 0) - (b?.mean ?? 0)).toBeCloseTo(30.63, 1);
    expect(Math.hypot(a?.se ?? 0, b?.se ?? 0)).toBeCloseTo(28.94, 1);
  });
  it('gives the same ends again from the same seed, and others from another', () => {
    const groups = { first: [94, 197, 16, 38, 99, 141, 23], second: [52, 104, 146, 10, 51, 30, 40, 27, 46] };
    const ends = (seed: number) => bootstrapInterval(groups, (a, b) => a - b, seed);
    expect(ends(7)).toEqual(ends(7));
    expect(ends(7)).not.toEqual(ends(8));
    expect(ends(7).low).toBeLessThan(30.63);
    expect(ends(7).high).toBeGreaterThan(30.63);
  });
});

describe('chance from a seed', () => {
  it('has the mean and spread of the normal distribution, and stays below its count', () => {
    const chance = chanceFrom(3);
    const drawn = Array.from({ length: 20_000 }, () => chance.normal());
    const spread = spreadOf(drawn);
    expect(Math.abs(spread?.mean ?? 1)).toBeLessThan(3 / Math.sqrt(20_000));
    expect(Math.abs((spread?.sd ?? 0) - 1)).toBeLessThan(3 / Math.sqrt(40_000));
    const seen = new Set(Array.from({ length: 200 }, () => chance.below(4)));
    expect([...seen].toSorted((a, b) => a - b)).toEqual([0, 1, 2, 3]);
  });
});

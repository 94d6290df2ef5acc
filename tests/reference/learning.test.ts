/** Published learning-curve figures; each block names where its numbers come from. */
import { describe, expect, it } from 'vitest';
import {
  averageMarginal,
  averageTime,
  averageTotal,
  exponentOf,
  fitCurve,
  rateFromTotal,
  rateOfDoubling,
  unitTime,
  unitTotal,
} from '../../electron/domain/learning.ts';

describe('unit law, 80 %, first unit 1,000 (essay on Wright’s curve, bartleby.com; read)', () => {
  const curve = { first: 1000, rate: 0.8 };
  it.each([
    [1, 1000],
    [2, 800],
    [3, 702],
    [4, 640],
    [100, 227],
  ])('unit %i takes %i', (n, minutes) => {
    expect(Math.round(unitTime(curve, n))).toBe(minutes);
  });
  it('has the exponent −0.321928', () => expect(exponentOf(0.8)).toBeCloseTo(-0.321928, 6));
});

describe('cumulative factors at 70 % (Stevenson’s coefficients, same source; read)', () => {
  it.each([
    [1, 1.0],
    [2, 1.7],
    [3, 2.268],
    [4, 2.758],
    [5, 3.195],
    [10, 4.932],
    [15, 6.274],
    [20, 7.407],
  ])('the first %i together take %f times the first', (n, factor) => {
    expect(unitTotal({ first: 1, rate: 0.7 }, n)).toBeCloseTo(factor, 3);
  });
});

describe('cumulative-average law, 80 %, first 100 (by its definition, Wright 1936; calculated)', () => {
  const curve = { first: 100, rate: 0.8 };
  it.each([
    [1, 100, 100],
    [2, 80, 160],
    [3, 70.21, 210.63],
    [4, 64, 256],
    [8, 51.2, 409.6],
  ])('the first %i average %f and total %f', (n, average, total) => {
    expect([averageTime(curve, n), averageTotal(curve, n)].map((x) => Math.round(x * 100) / 100)).toEqual([
      average,
      total,
    ]);
  });
  it('lets the second alone take 60, where the unit law says 80', () => {
    expect(averageMarginal(curve, 2)).toBeCloseTo(60, 9);
    expect(unitTime(curve, 2)).toBeCloseTo(80, 9);
  });
});

describe('50 minutes first, 40 second (business-analysis-made-easy.com; read)', () => {
  const rate = rateOfDoubling(50, 40);
  it('is a rate of 80 % with exponent 0.322', () => {
    expect([rate, Math.round(-exponentOf(rate) * 1000) / 1000]).toEqual([0.8, 0.322]);
  });
  it('lets the fourth take 32', () => expect(unitTime({ first: 50, rate }, 4)).toBeCloseTo(32, 9));
});

describe('finding the rate again (inverse of the unit law; calculated)', () => {
  it('finds 90 % where the first took 100 and four together 355.62', () => {
    const found = rateFromTotal(100, 4, 355.62);
    expect(found.ok && Math.abs(found.value - 0.9) < 0.0005).toBe(true);
  });
  it('fits the very curve its points were taken from', () => {
    const curve = { first: 640, rate: 0.87 };
    const found = fitCurve([1, 2, 3, 5, 8, 13].map((n) => ({ n, minutes: unitTime(curve, n) })));
    expect(found.ok && [found.value.first, found.value.rate]).toEqual([
      expect.closeTo(640, 6),
      expect.closeTo(0.87, 9),
    ]);
  });
  it('says too few to say below four, and refuses times that rise for a rate from a total', () => {
    expect(fitCurve([{ n: 1, minutes: 5 }]).ok).toBe(false);
    expect(rateFromTotal(100, 4, 401).ok).toBe(false);
  });
});

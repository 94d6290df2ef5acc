/** One raw lot cut into unequal parts, and spoilt work, against published exercises. */
import { describe, expect, it } from 'vitest';
import { shareCost, sharesOf, valueOf } from '../../electron/domain/making-share.ts';
import { normalSpoilt, spoilageCosts } from '../../electron/domain/making-spoilage.ts';

const unit = 1_000_000;
const money = (micro: number): string => (micro / unit).toFixed(2);

/** Horngren, Cost Accounting, chapter 16, exercise 16-16: joint cost 50.00; pounds and price of five parts. */
const parts = [
  { pounds: 100, price: 0.55 },
  { pounds: 20, price: 0.2 },
  { pounds: 40, price: 0.35 },
  { pounds: 80, price: 0.1 },
  { pounds: 10, price: 0.05 },
];
const joint = 50 * unit;
const salesValues = parts.map(({ pounds, price }) => Math.round(pounds * price * unit));
/** Sales value less the share of the cost, part by part. */
const marginsOf = (costs: readonly number[]): string[] =>
  salesValues.map((worth, at) => money(worth - (costs[at] ?? 0)));

describe('joint cost (Horngren 16-16)', () => {
  const shares = sharesOf(
    'weight',
    parts.map(({ pounds }) => ({ name: 'part', form: 'weight', qty: pounds })),
  );
  const values = shares.ok ? shareCost(joint, shares.value) : [];

  it('by weight gives 20, 4, 8, 16 and 2, the way the outputs of a making are valued', () => {
    expect(values.map(money)).toEqual(['20.00', '4.00', '8.00', '16.00', '2.00']);
  });

  it('puts 11.00 on 40 lb of c and 15 lb of b that were destroyed', () => {
    const c = valueOf(values, [2]);
    const b = (valueOf(values, [1]) / 20) * 15;
    expect([money(c), money(b), money(c + b)]).toEqual(['8.00', '3.00', '11.00']);
  });

  it('leaves the margins of the solution, by weight and by sales value', () => {
    expect(marginsOf(values)).toEqual(['35.00', '0.00', '6.00', '-8.00', '-1.50']);
    expect(marginsOf(shareCost(joint, salesValues))).toEqual(['21.26', '1.55', '5.41', '3.09', '0.19']);
  });
});

/** The solution rounds each part's share of the sales value to a thousandth before it shares the cost. */
describe('sales-value margins as printed', () => {
  it('come out to the cent from shares rounded as the solution does', () => {
    const whole = salesValues.reduce((so, worth) => so + worth, 0);
    const rounded = salesValues.map((worth) => Math.round((worth / whole) * 1000));
    expect(rounded).toEqual([675, 49, 172, 98, 6]);
    expect(marginsOf(shareCost(joint, rounded))).toEqual(['21.25', '1.55', '5.40', '3.10', '0.20']);
  });
});

const work = { cost: 0, good: 0, normal: 0, abnormal: 0, inProcess: 0, countSpoilt: true };

describe('spoilage', () => {
  /** A question of a management accounting examination, gaodun.com q/306i75; 80 and 4.24 follow from it. */
  it('550 units for 2,200: 500 good ones carry 30 usual failures, 20 more are a loss of 80', () => {
    const found = spoilageCosts({ ...work, cost: 2200 * unit, good: 500, normal: 30, abnormal: 20 });
    expect(found).toEqual({
      units: 550,
      perUnit: 4 * unit,
      toGood: 2120 * unit,
      perGood: 4_240_000,
      abnormalLoss: 80 * unit,
      inProcess: 0,
    });
  });

  /** "Equivalent units: spoilage included", dummies.com. */
  it('6,000 units for 150,000: 100,000 goes out with the good, 50,000 stays in process', () => {
    const found = spoilageCosts({ ...work, cost: 150_000 * unit, good: 3800, normal: 200, inProcess: 2000 });
    expect([found.perUnit, found.toGood, found.inProcess]).toEqual([
      25 * unit,
      100_000 * unit,
      50_000 * unit,
    ]);
  });

  /** The same with spoilt units left out of the equivalent units, the other method the article names; calculated. */
  it('leaves spoilt units out: 25.862069 a unit, 98,275.86 out, 51,724.14 in process', () => {
    const case9 = {
      ...work,
      cost: 150_000 * unit,
      good: 3800,
      normal: 200,
      inProcess: 2000,
      countSpoilt: false,
    };
    const found = spoilageCosts(case9);
    expect([found.units, found.perUnit]).toEqual([5800, 25_862_069]);
    expect([money(found.toGood), money(found.inProcess)]).toEqual(['98275.86', '51724.14']);
  });

  it('loses nothing where nothing is good, and nothing where there is nothing', () => {
    const failed = spoilageCosts({ ...work, cost: 90, normal: 1, abnormal: 2 });
    expect([failed.toGood, failed.abnormalLoss, failed.perGood]).toEqual([0, 90, 0]);
    expect(spoilageCosts(work).abnormalLoss).toBe(0);
  });

  it('counts a failure as usual up to the usual share, rounded up to whole ones', () => {
    expect([normalSpoilt(550, 50, 54_545), normalSpoilt(3, 1, 100_000), normalSpoilt(9, 4, 100_000)]).toEqual(
      [30, 1, 1],
    );
    expect(normalSpoilt(9, 0, 100_000)).toBe(0);
  });
});

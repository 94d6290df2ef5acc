/** What to make next and what prices did: rules and laws that must hold whatever the figures. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sumPeriod, periodName } from '../../electron/domain/hour-periods.ts';
import { byNext, enoughFor, hourly, quartilesOf, standingOf } from '../../electron/domain/next-up.ts';
import { type OfferedOne, priceChanges, priceHint, sumOffers } from '../../electron/domain/price-review.ts';

const demand = { promised: 0, asked: 0, quoted: 0, coming: 0, unsoldDays: [], soldDays: null, sold: 5 };

describe('how a model stands', () => {
  it.each([
    [{ ...demand, promised: 1, asked: 3 }, 'promised'],
    [{ ...demand, asked: 2, coming: 1 }, 'askedFor'],
    [{ ...demand, asked: 1, quoted: 1, coming: 1 }, 'askedFor'],
    [{ ...demand, asked: 2, coming: 1, unsoldDays: [1] }, 'sells'],
    [{ ...demand, sold: 2 }, 'tooFew'],
    [{ ...demand, unsoldDays: [61] }, 'lies'],
    [{ ...demand, unsoldDays: [60] }, 'sells'],
    [{ ...demand, unsoldDays: [12], soldDays: quartilesOf([1, 2, 10, 12]) }, 'lies'],
  ] as const)('%j is %s', (of, standing) => expect(standingOf(of)).toBe(standing));

  it('lists promised before best, and among equals the better hour first', () => {
    const rows = [
      { code: 'A', standing: 'sells', perHourMinor: 5000 },
      { code: 'B', standing: 'promised', perHourMinor: 1000 },
      { code: 'C', standing: 'sells', perHourMinor: 6000 },
      { code: 'D', standing: 'tooFew', perHourMinor: null },
    ] as const;
    expect(byNext(rows).map((row) => row.code)).toEqual(['B', 'C', 'A', 'D']);
  });
});

describe('what the rack is enough for', () => {
  it('does not join two short ends, and serves open knives first', () => {
    const bar = { perKnife: 10, lots: [9, 9, 25], joins: false, spokenFor: [] as number[], tolerance: 0 };
    expect(enoughFor(bar)).toBe(2);
    expect(enoughFor({ ...bar, joins: true })).toBe(4);
    expect(enoughFor({ ...bar, spokenFor: [30] })).toBe(1);
    expect(enoughFor({ ...bar, lots: [], spokenFor: [30] })).toBe(0);
    // Two open knives take 10 each off the 25: the short ends of 9 make no third, though 23 are left in all.
    expect(enoughFor({ ...bar, spokenFor: [10, 10] })).toBe(0);
    // One that needs 9 takes a short end, and the 25 stays whole.
    expect(enoughFor({ ...bar, spokenFor: [9] })).toBe(2);
  });
  it('never falls with more on the rack, nor rises with more spoken for', () => {
    const lot = fc.nat(1000);
    fc.assert(
      fc.property(
        fc.array(lot, { maxLength: 6 }),
        fc.integer({ min: 1, max: 200 }),
        lot,
        fc.boolean(),
        (lots, perKnife, more, joins) => {
          const now = { perKnife, lots, joins, spokenFor: [], tolerance: 0 };
          expect(enoughFor({ ...now, lots: [...lots, more] })).toBeGreaterThanOrEqual(enoughFor(now));
          expect(enoughFor({ ...now, spokenFor: [more] })).toBeLessThanOrEqual(enoughFor(now));
        },
      ),
      { numRuns: 60 },
    );
  });
});

describe('what an hour left', () => {
  it('lies between the worst and the best knife, and grows with all money alike', () => {
    const sold = fc.record({
      contributionMinor: fc.integer({ min: -50_000, max: 200_000 }),
      minutes: fc.integer({ min: 1, max: 3000 }),
    });
    fc.assert(
      fc.property(fc.array(sold, { minLength: 1, maxLength: 12 }), (knives) => {
        const { pooledMinor } = hourly(knives);
        const each = knives.map((one) => (one.contributionMinor * 60) / one.minutes);
        expect(pooledMinor ?? Number.NaN).toBeGreaterThanOrEqual(Math.floor(Math.min(...each)));
        expect(pooledMinor ?? Number.NaN).toBeLessThanOrEqual(Math.ceil(Math.max(...each)));
        const tenfold = hourly(
          knives.map((one) => ({ ...one, contributionMinor: one.contributionMinor * 10 })),
        );
        expect(Math.abs((tenfold.pooledMinor ?? 0) - (pooledMinor ?? 0) * 10)).toBeLessThanOrEqual(5);
      }),
      { numRuns: 60 },
    );
  });
  it('is nothing without sales or without hours', () => {
    expect(hourly([])).toEqual({ pooledMinor: null, each: null });
    expect(hourly([{ contributionMinor: 500, minutes: 0 }]).pooledMinor).toBeNull();
  });
});

describe('a change of price', () => {
  const knife = (offeredOn: string, more: Partial<OfferedOne> = {}): OfferedOne => ({
    modelId: 'm',
    offeredOn,
    soldOn: null,
    days: 5,
    shown: false,
    early: false,
    ...more,
  });
  const prices = [
    { modelId: 'm', from: '2025-01-01', priceMinor: 10_000 },
    { modelId: 'm', from: '2025-03-01', priceMinor: 11_000 },
    { modelId: 'n', from: '2025-03-01', priceMinor: 5_000 },
    { modelId: 'm', from: '2025-06-01', priceMinor: 9_900 },
  ];

  it('takes each knife once on each side of its neighbours; a first price is no change', () => {
    const knives = ['2025-02-28', '2025-03-01', '2025-05-31', '2025-06-01'].map((day) => knife(day));
    const [down, up] = priceChanges(prices, knives);
    expect([down?.on, down?.leastPpm, down?.before.offered, down?.after.offered]).toEqual([
      '2025-06-01',
      -100_000,
      2,
      1,
    ]);
    expect([up?.on, up?.models, up?.mostPpm, up?.before.offered, up?.after.offered]).toEqual([
      '2025-03-01',
      1,
      100_000,
      1,
      2,
    ]);
    expect(priceChanges(prices.slice(0, 1), knives)).toEqual([]);
  });
  it('parts what was shown into early, later and unsold without a rest', () => {
    const one = fc.record({ shown: fc.boolean(), sold: fc.boolean(), early: fc.boolean() });
    fc.assert(
      fc.property(fc.array(one, { maxLength: 30 }), (all) => {
        const sum = sumOffers(
          all.map(({ shown, sold, early }) =>
            knife('2025-02-01', { shown, soldOn: sold ? '2025-02-03' : null, early: early && sold && shown }),
          ),
        );
        expect(sum.shownEarly + sum.shownLater + sum.shownUnsold).toBe(sum.shown);
        expect(sum.sold + sum.unsold).toBe(sum.offered);
      }),
      { numRuns: 60 },
    );
  });
  it('is hinted at by a knife gone at once or lying long, not by those between', () => {
    expect([priceHint(0, 60), priceHint(0, 61), priceHint(59, null), priceHint(60, null)]).toEqual([
      'atOnce',
      null,
      null,
      'long',
    ]);
  });
});

describe('an hour over time', () => {
  const month = {
    month: '2025-01',
    ...{ sold: 1, contributionMinor: 6000, soldMinutes: 180, benchMinutes: 240, makingMinutes: 60 },
    others: new Map([['content', 100]]),
    ...{ expensesMinor: 0, rateMinor: 400 },
  };
  it('divides once, after everything is added; expenses go before the rate', () => {
    expect(sumPeriod('2025 Q1', [month])).toMatchObject({
      ...{ from: '2025-01-01', to: '2025-01-31', perBuildHourMinor: 2000, unpaidPpm: 250_000 },
      ...{ overheadMinor: 400, overheadFrom: 'rate', overheadPerHourMinor: 100, perHourWorkedMinor: 840 },
    });
    const two = sumPeriod('x', [
      month,
      { ...month, month: '2025-02', expensesMinor: 1000, others: new Map() },
    ]);
    expect(two).toMatchObject({
      to: '2025-02-28',
      overheadMinor: 1000,
      overheadFrom: 'expenses',
      otherMinutes: 100,
    });
    expect(
      sumPeriod('x', [{ ...month, soldMinutes: 0, benchMinutes: 0, makingMinutes: 0, others: new Map() }]),
    ).toMatchObject({
      ...{ perBuildHourMinor: null, unpaidPpm: null, overheadPerHourMinor: null, perHourWorkedMinor: null },
    });
  });
  it('names months, quarters and years', () => {
    expect((['month', 'quarter', 'year'] as const).map((by) => periodName('2025-10', by))).toEqual([
      '2025-10',
      '2025 Q4',
      '2025',
    ]);
  });
});

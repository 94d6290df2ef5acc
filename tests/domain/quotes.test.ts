import fc from 'fast-check';
import * as simple from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { broughtBy, floorPrice, type FloorTerms } from '../../electron/domain/floor-price.ts';
import { nearestOf, nearnessOf } from '../../electron/domain/nearness.ts';
import { atPlace } from '../../electron/domain/practice.ts';
import { priceAt, priceLine } from '../../electron/domain/price-line.ts';

const untaxed = {
  ratePpm: 0,
  onPrice: true,
  onShipping: false,
  rounding: 'invoice',
  inclusive: false,
} as const;
const fee = { percentPpm: 29_000, fixedMinor: 30, abroadExtraPpm: 15_000 };
const termsOf = (of: Partial<FloorTerms>): FloorTerms => ({
  shippingMinor: 1800,
  postageMinor: 2414,
  spentMinor: 10_748 + 73_547,
  fee,
  abroad: false,
  tax: untaxed,
  ...of,
});
const floorOf = (terms: FloorTerms): number => {
  const found = floorPrice(terms);
  if (!found.ok) throw new Error(found.message);
  return found.value;
};

/** Any terms a workshop could have: fee below half, tax below 30 %, inclusive or not, by line or not. */
const anyTerms: fc.Arbitrary<FloorTerms> = fc
  .record({
    shippingMinor: fc.nat(10_000),
    postageMinor: fc.nat(10_000),
    spentMinor: fc.nat(1_000_000),
    percentPpm: fc.nat(500_000),
    fixedMinor: fc.nat(500),
    ratePpm: fc.nat(300_000),
    onShipping: fc.boolean(),
    inclusive: fc.boolean(),
    rounding: fc.constantFrom('invoice' as const, 'line' as const),
    abroad: fc.boolean(),
  })
  .map(({ percentPpm, fixedMinor, ratePpm, onShipping, inclusive, rounding, ...rest }) => ({
    ...rest,
    fee: { percentPpm, fixedMinor, abroadExtraPpm: 15_000 },
    tax: { ratePpm, onPrice: true, onShipping, rounding, inclusive },
  }));

describe('the floor of a price', () => {
  it('is the plain chef’s of the demo workshop’s tables: 0.971 P = 107.48 + 6.14 + 735.47 + 0.30 + 0.029 × 18', () => {
    // By hand: 849.912 / 0.971 = 875.2956, put up to the cent.
    expect(floorOf(termsOf({}))).toBe(87_530);
    expect(broughtBy(termsOf({}), 87_530)).toMatchObject({ feeMinor: 2621, leftMinor: 0 });
  });

  it('is the least price that leaves nothing missing, whatever fee and tax', () => {
    fc.assert(
      fc.property(anyTerms, (terms) => {
        const floor = floorOf(terms);
        expect(broughtBy(terms, floor).leftMinor).toBeGreaterThanOrEqual(0);
        for (let less = 1; less <= Math.min(floor, 5); less += 1)
          expect(broughtBy(terms, floor - less).leftMinor).toBeLessThan(0);
      }),
      { numRuns: 150 },
    );
  });

  it('never falls when more is spent, and grows with all money alike', () => {
    fc.assert(
      fc.property(anyTerms, fc.nat(100_000), fc.integer({ min: 2, max: 50 }), (terms, more, by) => {
        const floor = floorOf(terms);
        expect(floorOf({ ...terms, spentMinor: terms.spentMinor + more })).toBeGreaterThanOrEqual(floor);
        const scaled = floorOf({
          ...terms,
          shippingMinor: terms.shippingMinor * by,
          postageMinor: terms.postageMinor * by,
          spentMinor: terms.spentMinor * by,
          fee: { ...terms.fee, fixedMinor: terms.fee.fixedMinor * by },
        });
        // One cent of rounding in tax, fee and price each, blown up by what is kept of a cent.
        const slack = (by + 1) * 8;
        if (floor > 0) expect(Math.abs(scaled - floor * by)).toBeLessThanOrEqual(slack);
      }),
      { numRuns: 150 },
    );
  });

  it('knows money without decimals, and refuses a channel that keeps everything', () => {
    // 1,000 yen of goods at 10 %: 1,112 leaves 1,000.8 before rounding; 1,111 leaves 1,000 with its fee of 111.
    const yen = termsOf({
      shippingMinor: 0,
      postageMinor: 0,
      spentMinor: 1000,
      fee: { percentPpm: 100_000, fixedMinor: 0, abroadExtraPpm: 0 },
    });
    expect(floorOf(yen)).toBe(1111);
    for (const percentPpm of [1_000_000, 990_000]) {
      const all = floorPrice(termsOf({ fee: { ...fee, percentPpm }, abroad: true }));
      expect(all).toMatchObject({
        ok: false,
        message: expect.stringContaining('Choose another way') as string,
      });
    }
    expect(floorOf(termsOf({ spentMinor: 0, postageMinor: 0, shippingMinor: 0 }))).toBe(0);
  });
});

describe('a price by size', () => {
  const points = (xs: readonly number[], ys: readonly number[]) =>
    xs.map((sizeMm, at) => ({ sizeMm, priceMinor: ys[at] ?? 0 }));

  it('is the line of Sen (1968) and of the three points 0, 1, 1', () => {
    // Sen's example as in the test suite of a public statistics library: slope 4, intercept 4.
    const sen = priceLine(points([1, 2, 3, 4, 10, 12, 18], [9, 15, 19, 20, 45, 55, 78]));
    expect(sen?.line).toEqual({ slope: 4, intercept: 4 });
    expect(sen && priceAt(sen, 20)).toBe(84);
    expect(priceLine(points([0, 1, 2], [0, 1, 1]))?.line).toEqual({ slope: 0.5, intercept: 0.5 });
  });

  it('is the middle of all slopes as another library finds it, and says nothing below three sizes', () => {
    const sale = fc.record({ sizeMm: fc.integer({ min: 60, max: 300 }), priceMinor: fc.nat(200_000) });
    fc.assert(
      fc.property(fc.array(sale, { minLength: 1, maxLength: 12 }), (sold) => {
        const sizes = new Set(sold.map((one) => one.sizeMm)).size;
        const slopes = sold.flatMap((a, at) =>
          sold
            .slice(at + 1)
            .flatMap((b) =>
              a.sizeMm === b.sizeMm ? [] : [(b.priceMinor - a.priceMinor) / (b.sizeMm - a.sizeMm)],
            ),
        );
        const found = priceLine(sold);
        if (sizes < 3) expect(found).toBeUndefined();
        else {
          const slope = simple.median(slopes);
          if (slope < 0) expect(found).toBeUndefined();
          else expect(found?.line.slope).toBeCloseTo(slope, 8);
        }
      }),
      { numRuns: 100 },
    );
  });
});

describe('the nearest own knives', () => {
  const wish = { modelId: 'chf', bladeNm: 220e6, steel: '52100', finish: 'hand-rubbed', method: 'stone' };
  it('are told apart by model, size, steel, finish and way of working, and not by what nobody wrote down', () => {
    expect(nearnessOf(wish, wish)).toEqual({ steps: 0, unlike: [] });
    expect(nearnessOf({ ...wish, bladeNm: null, steel: '', finish: ' Hand-Rubbed ' }, wish).steps).toBe(0);
    expect(nearnessOf({ ...wish, modelId: 'chfp', steel: 'w', bladeNm: 150e6 }, wish)).toEqual({
      steps: 5,
      unlike: ['model', 'size', 'steel'],
    });
    expect(nearnessOf({ ...wish, bladeNm: 190e6, method: 'paper' }, wish).steps).toBe(2);
  });
  it('are as many as make three, with all as near as the last, the newer first, and no more than asked', () => {
    const at = (...steps: readonly number[]) =>
      steps.map((n, index) => ({ id: index, near: { steps: n, unlike: [] } }));
    const ids = (...steps: readonly number[]): number[] =>
      nearestOf(at(...steps), { enough: 3, most: 5 }).map((one) => one.id);
    expect(ids()).toEqual([]);
    expect(ids(3)).toEqual([0]);
    expect(ids(1, 0, 4, 1, 1, 0)).toEqual([1, 5, 0, 3, 4]);
    expect(ids(0, 0, 0, 0, 0, 0, 0)).toHaveLength(5);
    expect(ids(4, 0, 4, 0)).toEqual([1, 3]);
  });
  it('take at another place what practice leaves of the work it touches', () => {
    // 880 of 985 minutes at 0.95 are 870.7 at 0.94; 105 minutes around the knife stay.
    expect(atPlace({ touched: 880, around: 105, factor: 0.95 }, 0.94)).toBeCloseTo(975.74, 2);
  });
});

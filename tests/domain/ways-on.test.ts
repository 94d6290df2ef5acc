import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { figuresOfWay, likelyShare, ranked, type WayOn } from '../../electron/domain/ways-on.ts';

const way = (of: Partial<WayOn>): WayOn => ({
  minutes: 0,
  spendMinor: 0,
  sellingMinor: 0,
  chancePpm: 1_000_000,
  priceMinor: 0,
  feeMinor: 0,
  salvageMinor: 0,
  ...of,
});
const anyWay = fc.record({
  minutes: fc.integer({ min: 0, max: 3000 }),
  spendMinor: fc.integer({ min: 0, max: 50_000 }),
  sellingMinor: fc.integer({ min: 0, max: 5000 }),
  chancePpm: fc.integer({ min: 0, max: 1_000_000 }),
  priceMinor: fc.integer({ min: 0, max: 200_000 }),
  feeMinor: fc.integer({ min: 0, max: 5000 }),
  salvageMinor: fc.integer({ min: 0, max: 5000 }),
});

describe('ways on with a doubtful knife', () => {
  it('weighs price by chance and takes off what is still to be spent (worked by hand)', () => {
    // 540.00 less fee 16.48 and 8.00 of packing, 515.52 at 90 %: 463.968; 60.00 of goods are spent either way.
    // Seven hours at 35.00 are 245.00.
    const one = { minutes: 420, spendMinor: 6000, priceMinor: 54_000, feeMinor: 1648, sellingMinor: 800 };
    expect(figuresOfWay(way({ ...one, chancePpm: 900_000 }), 3500)).toEqual({
      expectedMinor: 46_397,
      leftMinor: 40_397,
      perHourMinor: 5771,
      afterHoursMinor: 15_897,
    });
    // What never passes is never packed.
    expect(figuresOfWay(way({ ...one, chancePpm: 0 }), 3500).leftMinor).toBe(-6000);
  });
  it('leaves nothing to scrap but what is saved', () => {
    expect(figuresOfWay(way({ chancePpm: 0, salvageMinor: 250 }), 3500)).toEqual({
      expectedMinor: 250,
      leftMinor: 250,
      perHourMinor: null,
      afterHoursMinor: 250,
    });
  });
  it('never ranks a way higher for costing more at no more price', () => {
    fc.assert(
      fc.property(anyWay, fc.nat(500), fc.nat(10_000), (one, minutes, spend) => {
        const dearer = { ...one, minutes: one.minutes + minutes, spendMinor: one.spendMinor + spend };
        const [a, b] = [figuresOfWay(one, 3500), figuresOfWay(dearer, 3500)];
        expect(b.afterHoursMinor).toBeLessThanOrEqual(a.afterHoursMinor);
        const order = ranked([
          { ...dearer, figures: b },
          { ...one, figures: a },
        ]);
        if (minutes + spend > 0 && b.afterHoursMinor < a.afterHoursMinor) expect(order[0]?.figures).toBe(a);
      }),
      { numRuns: 200 },
    );
  });
  it('scales with all money', () => {
    fc.assert(
      fc.property(anyWay, fc.integer({ min: 2, max: 9 }), (one, by) => {
        const scaled = {
          ...one,
          spendMinor: one.spendMinor * by,
          sellingMinor: one.sellingMinor * by,
          priceMinor: one.priceMinor * by,
          feeMinor: one.feeMinor * by,
          salvageMinor: one.salvageMinor * by,
        };
        const [a, b] = [figuresOfWay(one, 3500), figuresOfWay(scaled, 3500 * by)];
        // Each of three parts is rounded once.
        expect(Math.abs(b.afterHoursMinor - a.afterHoursMinor * by)).toBeLessThanOrEqual(2 * by);
      }),
      { numRuns: 200 },
    );
  });
  it('supposes one more of either where little is known (Laplace’s rule of succession)', () => {
    expect([likelyShare(0, 0), likelyShare(36, 37)]).toEqual([0.5, 37 / 39]);
  });
});

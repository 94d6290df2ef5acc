/** A making in weights, shares and hours. Figures of the billet are invented: those of the demo workshop. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sum } from '../../electron/domain/integers.ts';
import { minutesByLot, minutesByTaking } from '../../electron/domain/making-labour.ts';
import { shareCost, sharesOf, type CameOut } from '../../electron/domain/making-share.ts';
import {
  followSteps,
  lastWeight,
  lossPpm,
  mayFollow,
  totalLoss,
} from '../../electron/domain/making-steps.ts';
import { usualBilletLoss, usualStepLoss } from '../../electron/domain/making-usual.ts';

const GRAM = 1_000_000_000;
const grams = (weight: number | null, pieces = 1) => ({
  weightAfterNg: weight === null ? null : weight * GRAM,
  pieces,
});
const describeNg = (ng: number): string => `${String(ng / GRAM)} g`;

describe('steps', () => {
  const steps = [
    grams(2028),
    grams(1866),
    grams(1735, 4),
    grams(1614),
    grams(1517, 4),
    grams(1441),
    grams(1383),
  ];

  it('tell each loss against the weighing before it', () => {
    const losses = followSteps(steps, 15).map(({ lossNg, lossPpm: ppm }) => [
      lossNg === null ? null : lossNg / GRAM,
      ppm === null ? null : (ppm / 10_000).toFixed(1),
    ]);
    expect(losses).toEqual([
      [null, null],
      [162, '8.0'],
      [131, '7.0'],
      [121, '7.0'],
      [97, '6.0'],
      [76, '5.0'],
      [58, '4.0'],
    ]);
  });

  it('count layers as the first stack times every cut', () => {
    expect(followSteps(steps, 15).map((step) => step.layers)).toEqual([15, 15, 60, 60, 240, 240, 240]);
  });

  /** A walk-through on a makers' forum: 9 layers, cut in four three times. */
  it('come from 9 to 576 layers by cutting in four three times', () => {
    const cuts = [grams(null, 4), grams(null, 4), grams(null, 4)];
    expect(followSteps(cuts, 9).map((step) => step.layers)).toEqual([36, 144, 576]);
    expect(followSteps(cuts, null).map((step) => step.layers)).toEqual([null, null, null]);
  });

  it('leave out what nobody weighed', () => {
    const found = followSteps([grams(1000), grams(null), grams(900)], null);
    expect(found.map((step) => step.lossNg)).toEqual([null, null, 100 * GRAM]);
    expect(lastWeight([grams(1000), grams(null)])).toBe(1000 * GRAM);
    expect(lastWeight([grams(null)])).toBeNull();
  });

  it('add up to the whole loss, to bar and to what came out', () => {
    expect(totalLoss(steps, null)).toEqual({ lossNg: 645 * GRAM, lossPpm: 318_047 });
    expect(totalLoss(steps, 1280 * GRAM)).toEqual({ lossNg: 748 * GRAM, lossPpm: 368_836 });
    expect(totalLoss([grams(null)], null)).toBeNull();
    expect(lossPpm(1, 3)).toBe(333_333);
  });

  it('refuse a weight that grows, naming both weights', () => {
    const grown = mayFollow([grams(1866), grams(null)], grams(1867), 15, describeNg);
    expect(grown.ok ? '' : grown.message).toContain('1867 g is more than the 1866 g');
    expect(mayFollow([grams(1866)], grams(1866), 15, describeNg).ok).toBe(true);
    expect(mayFollow([grams(null, 100), grams(null, 100)], grams(null, 100), 1000, describeNg).ok).toBe(true);
    const many = [1, 2, 3, 4].map(() => grams(null, 100));
    expect(mayFollow(many, grams(null, 100), 1000, describeNg).ok).toBe(false);
  });
});

const out = (qty: number, form: CameOut['form'] = 'weight', share?: number): CameOut => ({
  name: 'Good bar',
  form,
  qty,
  share,
});

describe('what came out', () => {
  const shares = (key: Parameters<typeof sharesOf>[0], outputs: readonly CameOut[]) => {
    const found = sharesOf(key, outputs);
    return found.ok ? found.value : found.message;
  };

  it('carries by weight, by length, by piece, or all on the first ones', () => {
    expect(shares('weight', [out(380), out(300)])).toEqual([380, 300]);
    expect(shares('weight', [out(2_000_000, 'pair', 90), out(10)])).toEqual([90, 10]);
    expect(shares('length', [out(500, 'length'), out(3, 'weight', 250)])).toEqual([500, 250]);
    expect(shares('equal', [out(2_000_000, 'pair'), out(70, 'area')])).toEqual([2_000_000, 1_000_000]);
    expect(shares('first', [out(380), out(300), out(220)])).toEqual([380, 300, 0]);
    expect(shares('first', [out(2_000_000, 'pair'), out(5, 'weight'), out(1, 'area')])).toEqual([
      2_000_000, 1_000_000, 0,
    ]);
    expect(shares('first', [out(7)])).toEqual([1]);
  });

  it('is refused where the key needs a measure nobody wrote', () => {
    expect(shares('weight', [out(1_000_000, 'piece')])).toMatch(/nothing says what Good bar weighs/);
    expect(shares('length', [out(5)])).toMatch(/nothing says what Good bar measures/);
    expect(shares('equal', [])).toBe('Write what came out of it.');
  });

  it('takes the whole cost, to the millionth, whatever the key', () => {
    fc.assert(
      fc.property(
        fc.nat({ max: 9_000_000_000_000 }),
        fc.array(fc.integer({ min: 1, max: 5_000_000_000_000 }), { minLength: 1, maxLength: 30 }),
        fc.constantFrom('weight' as const, 'equal' as const, 'first' as const),
        (cost, quantities, key) => {
          const found = sharesOf(
            key,
            quantities.map((qty) => out(qty)),
          );
          expect(found.ok && sum(shareCost(cost, found.value))).toBe(cost);
        },
      ),
    );
  });
});

describe('hours of a making', () => {
  const carried = (parts: readonly (readonly number[])[]): number => sum(parts.flat());
  const lot = (share: number, qty: number, taken: readonly number[]) => ({
    share,
    qty,
    taken: taken.map((each) => ({ qty: each })),
  });

  it('rest on what was taken so far, by largest remainder', () => {
    const lots = [lot(380, 380, [380]), lot(380, 380, [380]), lot(300, 300, [300]), lot(220, 220, [])];
    expect(minutesByTaking(450, lots, 'taken')).toEqual([[161], [161], [128], []]);
  });

  it('rest on all that came out, so that the rack keeps its own part', () => {
    const lots = [lot(380, 380, [380]), lot(380, 380, [380]), lot(300, 300, [300]), lot(220, 220, [])];
    expect(minutesByLot(450, lots)).toEqual([134, 134, 105, 77]);
    expect(minutesByTaking(450, lots, 'all')).toEqual([[134], [134], [105], []]);
  });

  it('carry nothing for a remnant that stands at zero', () => {
    expect(minutesByTaking(90, [lot(100, 100, []), lot(0, 50, [50])], 'taken')).toEqual([[], [0]]);
    expect(minutesByTaking(90, [], 'all')).toEqual([]);
  });

  it('are never more nor less than were worked, and a later taking changes no earlier one', () => {
    const some = fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(fc.nat({ max: 5000 }), fc.array(some, { minLength: 1, maxLength: 5 }), (minutes, lots) => {
        const whole = lots.map((taken) => lot(sum(taken), sum(taken), taken));
        expect(carried(minutesByTaking(minutes, whole, 'all'))).toBe(minutes);
        expect(carried(minutesByTaking(minutes, whole, 'taken'))).toBe(minutes);
        const before = lots.map((taken) => lot(sum(taken), sum(taken), taken.slice(0, -1)));
        const after = minutesByTaking(minutes, whole, 'all');
        expect(minutesByTaking(minutes, before, 'all')).toEqual(after.map((own) => own.slice(0, -1)));
      }),
    );
  });
});

describe('usual losses', () => {
  it('grow with every restack and are known only where something is usual', () => {
    const highest = [1, 2, 3].map((restacks) => usualBilletLoss(restacks)?.highPpm);
    expect(highest).toEqual([280_000, 380_000, 600_000]);
    expect(usualBilletLoss(0)).toBeUndefined();
    expect(usualStepLoss('grind')).toEqual({ lowPpm: 30_000, highPpm: 60_000 });
    expect(usualStepLoss('twist')).toBeUndefined();
  });
});

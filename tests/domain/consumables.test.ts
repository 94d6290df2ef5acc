/** Sharing, life and counts of consumables: invented figures, and properties that hold for any. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  countChanges,
  knivesPerOpening,
  shareDraws,
  spreadCount,
  type CountedLot,
} from '../../electron/domain/consumables.ts';
import { sum, sumOf } from '../../electron/domain/integers.ts';
import { effectiveRung, measured } from '../../electron/domain/ladder.ts';
import { sentence, value } from './figures.ts';

const PIECE = 1_000_000;
const shares = (...weights: readonly number[]) =>
  weights.map((weight, at) => ({ buildId: `W${at + 1}`, weight }));

describe('sharing what was opened', () => {
  it('splits a belt of 9.80 over three knives with no millionth lost', () => {
    const parts = value(shareDraws([{ lotId: 'L', qty: PIECE, valueMicro: 9_800_000 }], shares(1, 1, 1)));
    expect(parts.map((part) => part.qty)).toEqual([333_334, 333_333, 333_333]);
    expect(sumOf(parts, (part) => part.valueMicro)).toBe(9_800_000);
  });

  it('keeps quantity and value of every lot for any weights', () => {
    const draw = fc.record({
      lotId: fc.constantFrom('A', 'B'),
      qty: fc.integer({ min: 1, max: 5e6 }),
      valueMicro: fc.nat(5e7),
    });
    fc.assert(
      fc.property(
        fc.array(draw, { minLength: 1, maxLength: 3 }),
        fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 40 }),
        (draws, weights) => {
          const parts = shareDraws(draws, shares(...weights));
          if (!parts.ok) return;
          for (const lotId of ['A', 'B']) {
            const left = draws.filter((each) => each.lotId === lotId);
            const got = parts.value.filter((each) => each.lotId === lotId);
            expect(sumOf(got, (each) => each.qty)).toBe(sumOf(left, (each) => each.qty));
            expect(sumOf(got, (each) => each.valueMicro)).toBe(sumOf(left, (each) => each.valueMicro));
          }
          expect(parts.value.every((part) => part.qty > 0 && part.valueMicro >= 0)).toBe(true);
        },
      ),
    );
  });

  it('refuses what is too little for every knife', () => {
    expect(sentence(shareDraws([{ lotId: 'L', qty: 2, valueMicro: 9 }], shares(1, 1, 1)))).toContain(
      'too little',
    );
  });
});

describe('knives served by an opening', () => {
  it('is one and a half each when two belts served the same three knives', () => {
    const both = ['a', 'b'].map((id) => ({ id, qty: PIECE, shares: shares(1, 1, 1) }));
    expect([...knivesPerOpening(both).values()]).toEqual([1.5, 1.5]);
  });

  it('adds up to the knives there are, however openings and weights overlap', () => {
    const opening = fc.array(fc.tuple(fc.nat(8), fc.integer({ min: 1, max: 9 })), { maxLength: 5 });
    fc.assert(
      fc.property(fc.array(opening, { maxLength: 12 }), (list) => {
        const openings = list.map((pairs, at) => ({
          id: String(at),
          qty: PIECE,
          shares: [...new Map(pairs)].map(([knife, weight]) => ({ buildId: `W${knife}`, weight })),
        }));
        const knives = new Set(openings.flatMap((each) => each.shares.map((share) => share.buildId)));
        const served = [...knivesPerOpening(openings).values()].reduce((so, each) => so + each, 0);
        expect(served).toBeCloseTo(knives.size, 9);
      }),
    );
  });
});

const lot = (
  id: string,
  qtyLeft: number,
  valueLeftMicro: number,
  qtyReceived: number,
  priceMicro: number,
): CountedLot => ({
  id,
  qtyLeft,
  valueLeftMicro,
  qtyReceived,
  priceMicro,
  priceQty: qtyReceived,
  order: 0,
});

describe('a count over all lots', () => {
  const lots = [lot('old', 2, 20, 5, 50), lot('new', 3, 60, 3, 60)];

  it('takes what is missing from the oldest first', () => {
    expect(value(countChanges(lots, 2))).toEqual([
      { lotId: 'old', qty: -2, valueMicro: -20 },
      { lotId: 'new', qty: -1, valueMicro: -20 },
    ]);
  });

  it('gives what is over back to where it was taken, and a gift to the newest', () => {
    expect(value(countChanges(lots, 7))).toEqual([{ lotId: 'old', qty: 2, valueMicro: 20 }]);
    expect(value(countChanges(lots, 9))).toEqual([
      { lotId: 'old', qty: 3, valueMicro: 30 },
      { lotId: 'new', qty: 1, valueMicro: 20 },
    ]);
    expect(value(countChanges(lots, 5))).toEqual([]);
    expect(sentence(countChanges([], 1))).toContain('Enter the purchase');
  });

  it('leaves every lot with what was counted in all, and no value where nothing is left', () => {
    const any = fc.record({ left: fc.nat(50), more: fc.nat(50), unit: fc.nat(30) });
    fc.assert(
      fc.property(fc.array(any, { minLength: 1, maxLength: 5 }), fc.nat(300), (list, counted) => {
        const all = list.map(({ left, more, unit }, at) =>
          lot(String(at), left, left * unit, left + more + 1, (left + more + 1) * unit),
        );
        const changes = value(countChanges(all, counted));
        const after = all.map((each) => {
          const own = changes.filter((change) => change.lotId === each.id);
          return [
            each.qtyLeft + sumOf(own, (c) => c.qty),
            each.valueLeftMicro + sumOf(own, (c) => c.valueMicro),
          ] as const;
        });
        expect(sum(after.map(([qty]) => qty))).toBe(counted);
        expect(after.every(([qty, worth]) => qty >= 0 && worth >= 0 && (qty > 0 || worth === 0))).toBe(true);
      }),
    );
  });

  it('is spread by use, else by bench minutes, to the last millionth and with either sign', () => {
    const knives = [
      { buildId: 'W1', usedQty: 2, minutes: 10 },
      { buildId: 'W2', usedQty: 1, minutes: 90 },
      { buildId: 'W3', usedQty: 0, minutes: 500 },
    ];
    expect(spreadCount(10, knives).map((part) => [part.buildId, part.amountMicro, part.by])).toEqual([
      ['W1', 7, 'use'],
      ['W2', 3, 'use'],
    ]);
    const idle = knives.map((knife) => ({ ...knife, usedQty: 0 }));
    expect(spreadCount(-600, idle).map((part) => [part.buildId, part.amountMicro])).toEqual([
      ['W1', -10],
      ['W2', -90],
      ['W3', -500],
    ]);
    expect(spreadCount(5, [{ buildId: 'W1', usedQty: 0, minutes: 0 }])).toEqual([]);
  });
});

describe('the measured average', () => {
  it('looks at the last ten knives, counts the ones that needed nothing new, and says when they are too few', () => {
    expect(measured([])).toBeNull();
    expect(measured([PIECE, 0])?.enough).toBe(false);
    expect(measured([0, 0, 0])?.enough).toBe(false);
    expect(measured([PIECE, 0, PIECE / 2])).toMatchObject({ enough: true, n: 3, qty: 500_000, sd: 500_000 });
    expect(measured([...Array.from({ length: 10 }, () => 1), 999])).toMatchObject({ n: 10, mean: 1 });
  });

  it('stands on openings whenever stock falls by openings', () => {
    expect([
      effectiveRung('opening', 2),
      effectiveRung('opening', 4),
      effectiveRung('use', 3),
      effectiveRung('use', 4),
    ]).toEqual([3, 3, 3, 4]);
  });
});

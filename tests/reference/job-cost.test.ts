/** Published job cost sheets with overhead at a rate fixed beforehand, run through the knife's own cost sheet. */
import { dinero, multiply, halfAwayFromZero, transformScale, toSnapshot, USD } from 'dinero.js';
import { describe, expect, it } from 'vitest';
import { buildCostSheet } from '../../electron/domain/cost-sheet.ts';
import type { CostSheet, MaterialCosts } from '../../electron/domain/cost-sheet.ts';
import { mulDiv } from '../../electron/domain/integers.ts';
import { cents, micro } from '../domain/figures.ts';

const HOUR = 60;

/** A job as one sheet: its materials, one stage per labour row, overhead by the hour. */
const job = (
  materials: readonly number[],
  labour: readonly { hours: number; rate: number }[],
  overheadRate: number,
): CostSheet =>
  buildCostSheet({
    decimals: 2,
    materials: materials.map((amount, at): MaterialCosts => ({
      label: `Requisition ${String(at + 1)}`,
      entries: [{ valueMicro: micro(amount) }],
    })),
    consumables: [],
    energy: [],
    packaging: [],
    stages: labour.map(({ hours, rate }, at) => ({
      code: String(at),
      name: `Time ticket ${String(at + 1)}`,
      entries: [
        {
          minutes: hours * HOUR,
          guessed: false,
          rateMicro: micro(rate),
          overheadRateMicro: micro(overheadRate),
        },
      ],
    })),
  });

const figures = (sheet: CostSheet): number[] => [
  sheet.materialsMinor,
  sheet.labour.amountMinor,
  sheet.overhead.amountMinor,
  sheet.views.atOwnRateMinor,
];

describe('job cost sheets', () => {
  it('B1: job 469 costs 8,060, 4.03 a unit, at 120 % of labour (READ, justaaa.com 70601)', () => {
    /** Labour of 500, 300 and 700 as hours at 1.00, so that overhead by the hour is overhead by labour money. */
    const rate = mulDiv(micro(600 + 360 + 840), 1, 500 + 300 + 700);
    expect(rate).toBe(micro('1.20'));
    const sheet = job(
      [700, 900, 1620, 1540],
      [500, 300, 700].map((hours) => ({ hours, rate: 1 })),
      rate / 1e6,
    );
    expect(figures(sheet)).toEqual([cents(4760), cents(1500), cents(1800), cents(8060)]);
    expect(mulDiv(sheet.views.atOwnRateMinor, 1, 2000)).toBe(cents('4.03'));
  });

  it('B3: 1,224 hours at 15 with overhead of 35 an hour cost 120,600, 33.50 a unit (READ, wizedu.com 831329)', () => {
    const sheet = job([59_400], [{ hours: 1224, rate: 15 }], 35);
    expect(figures(sheet)).toEqual([cents(59_400), cents(18_360), cents(42_840), cents(120_600)]);
    expect(mulDiv(sheet.views.atOwnRateMinor, 1, 3600)).toBe(cents('33.50'));
  });

  it('B6: fixed and variable budget give a rate of 0.74 and a job of 5,718,060 (READ, techwhiff.com 30389)', () => {
    const budget = 4_938_000 + mulDiv(8_230_000, 14, 100);
    expect(budget).toBe(6_090_200);
    const rate = mulDiv(micro(budget), 1, 8_230_000);
    expect(rate).toBe(micro('0.74'));
    const sheet = job([1_422_000], [{ hours: 2_469_000, rate: 1 }], rate / 1e6);
    expect(figures(sheet)).toEqual([cents(1_422_000), cents(2_469_000), cents(1_827_060), cents(5_718_060)]);
  });

  it('B6b: overhead of 120 % on 5,000 labour makes 15,000, 2.00 a unit (question READ at questionai.com, answer CALC)', () => {
    const sheet = job([4000], [{ hours: 5000, rate: 1 }], 1.2);
    expect(figures(sheet)).toEqual([cents(4000), cents(5000), cents(6000), cents(15_000)]);
    expect(mulDiv(sheet.views.atOwnRateMinor, 1, 7500)).toBe(cents(2));
  });

  it('agrees with dinero.js on labour and overhead of odd minutes', () => {
    for (const minutes of [1, 7, 59, 410, 1240]) {
      const sheet = job([], [{ hours: minutes / HOUR, rate: 35 }], 8.03);
      const theirs = (rate: number): number =>
        toSnapshot(
          transformScale(
            multiply(dinero({ amount: rate * minutes, currency: USD }), {
              amount: Math.round(1e15 / HOUR),
              scale: 15,
            }),
            2,
            halfAwayFromZero,
          ),
        ).amount;
      expect([sheet.labour.amountMinor, sheet.overhead.amountMinor]).toEqual([theirs(3500), theirs(803)]);
    }
  });
});

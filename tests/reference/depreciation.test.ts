/**
 * Published values for depreciation and for the limit of small tools; each block names its source. Read means read in the
 * copies named; what no copy was had of is held against the rule the tables are made by instead.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  basisOf,
  type Depreciable,
  lastQuarterPpm,
  type Method,
  needsMidQuarter,
  pieceWithDelivery,
  schedule,
  smallTool,
  tableAmounts,
} from '../../electron/domain/depreciation.ts';
import { type ClassYears, type Convention, tableShares } from '../../electron/domain/depreciation-tables.ts';
import { sumOf } from '../../electron/domain/integers.ts';

const percent = (classYears: ClassYears, convention: Convention): number[] =>
  tableShares(classYears, convention).map((share) => share / 100);

describe('the published tables (IRS Publication 946, Appendix A)', () => {
  it('C1a–c: half-year rows, read in five copies that agree', () => {
    expect(percent(3, 'halfYear')).toEqual([33.33, 44.45, 14.81, 7.41]);
    expect(percent(5, 'halfYear')).toEqual([20, 32, 19.2, 11.52, 11.52, 5.76]);
    expect(percent(7, 'halfYear')).toEqual([14.29, 24.49, 17.49, 12.49, 8.93, 8.92, 8.93, 4.46]);
  });
  it('C1f: five years, last quarter, read in one copy', () => {
    expect(percent(5, 'q4')).toEqual([5, 38, 22.8, 13.68, 10.94, 9.58]);
  });
  it('C1k: straight line by the half-year, read in a textbook’s table 7.3', () => {
    expect(percent(5, 'straight')).toEqual([10, 20, 20, 20, 20, 10]);
    const seven = percent(7, 'straight');
    expect([seven[0], seven[1], seven.at(-1)]).toEqual([7.14, 14.29, 7.14]);
  });

  /**
   * The rule the tables are made by (200 % declining balance, to straight line where that takes more), in plain floating
   * point. `first` is the part of a year a thing counts in its first.
   */
  const byRule = (life: number, first: number): number[] => {
    const years: number[] = [];
    let left = 100;
    let remaining = life;
    for (let part = first; left > 1e-9; part = 1) {
      const taken = Math.min(left, Math.max((left * 2) / life, left / remaining) * part, left);
      years.push(taken);
      left -= taken;
      remaining -= part;
      if (remaining < 1) {
        years.push(left);
        break;
      }
    }
    return years.filter((share) => share > 1e-9);
  };
  const firstPart = { halfYear: 0.5, q1: 0.875, q2: 0.625, q3: 0.375, q4: 0.125 } as const;

  it('C1d–g: every row of every quarter adds up to 100 % and follows the rule to within 0.02 points', () => {
    for (const convention of ['halfYear', 'q1', 'q2', 'q3', 'q4'] as const) {
      for (const life of [3, 5, 7] as const) {
        const row = percent(life, convention);
        expect(sumOf([...tableShares(life, convention)], (share) => share)).toBe(10_000);
        const rule = byRule(life, firstPart[convention]);
        expect(row).toHaveLength(rule.length);
        row.forEach((share, at) => {
          expect(
            Math.abs(share - (rule[at] ?? 0)),
            `${convention} ${String(life)} year ${String(at + 1)}`,
          ).toBeLessThan(0.02);
        });
      }
    }
  });
  it('C1h: seven years on 11,300, first year 1,614.77 (a published exercise, read)', () => {
    expect(tableAmounts(1_130_000, 7, 'halfYear')[0]).toBe(161_477);
  });
  it('C1i: above 40 % in the last quarter the tables by quarter apply; exactly 40 % does not', () => {
    const year = { from: '2025-01-01', to: '2025-12-31' };
    const placed = (early: number, late: number) => [
      { inServiceOn: '2025-09-30', basisMinor: early },
      { inServiceOn: '2025-10-01', basisMinor: late },
      { inServiceOn: '2024-12-31', basisMinor: 9_000_000 },
    ];
    expect(needsMidQuarter(placed(600_000, 400_000), year)).toBe(false);
    expect(needsMidQuarter(placed(600_000, 400_001), year)).toBe(true);
    expect(lastQuarterPpm(placed(600_000, 400_000), year)).toBe(400_000);
    // A year from July has its last quarter in spring.
    const fiscal = { from: '2024-07-01', to: '2025-06-30' };
    expect(needsMidQuarter([{ inServiceOn: '2025-04-01', basisMinor: 1 }], fiscal)).toBe(true);
    expect(needsMidQuarter([{ inServiceOn: '2025-03-31', basisMinor: 1 }], fiscal)).toBe(false);
    // One of weeks from 29 December counts as from January: September is its third quarter, October its last.
    const weeks = { from: '2024-12-29', to: '2026-01-03' };
    expect(needsMidQuarter([{ inServiceOn: '2025-09-30', basisMinor: 1 }], weeks)).toBe(false);
    expect(needsMidQuarter([{ inServiceOn: '2025-10-01', basisMinor: 1 }], weeks)).toBe(true);
  });
});

/** Calendar years enough for any life below. */
const years = Array.from({ length: 60 }, (_, at) => {
  const year = String(2020 + at);
  return { from: `${year}-01-01`, to: `${year}-12-31` };
});

const thing = (method: Method, more: Partial<Depreciable> = {}): Depreciable => ({
  inServiceOn: '2020-03-10',
  costMinor: 1_000_000,
  sharePpm: 1_000_000,
  residualMinor: 0,
  method,
  disposedOn: null,
  proceedsMinor: 0,
  ...more,
});

describe('the schedule of one thing', () => {
  const anything = fc.record({
    method: fc.oneof(
      fc.record({ kind: fc.constant('months' as const), lifeMonths: fc.integer({ min: 1, max: 400 }) }),
      fc.record({
        kind: fc.constant('table' as const),
        classYears: fc.constantFrom<ClassYears>(3, 5, 7),
        convention: fc.constantFrom<Convention>('halfYear', 'q1', 'q2', 'q3', 'q4', 'straight'),
      }),
      fc.constant({ kind: 'atOnce' as const }),
    ),
    inServiceOn: fc.constantFrom('2020-01-01', '2020-02-29', '2021-06-30', '2022-12-31'),
    costMinor: fc.oneof(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 900_000_000 })),
    sharePpm: fc.integer({ min: 1, max: 1_000_000 }),
    disposedOn: fc.constantFrom(null, null, '2022-12-31', '2023-01-15', '2026-07-04', '2040-02-29'),
    proceedsMinor: fc.integer({ min: 0, max: 1_000_000 }),
  });
  it('C1j: what all years take and what is left add up to the basis to the cent, never falling, whatever the method', () => {
    fc.assert(
      fc.property(anything, (about) => {
        const one = thing(about.method, about);
        const rows = schedule(one, years);
        const taken = sumOf([...rows], (row) => row.minor);
        const gain = rows.find((row) => row.gainMinor !== null)?.gainMinor ?? null;
        expect(rows.every((row) => row.minor >= 0)).toBe(true);
        if (one.disposedOn === null) expect(taken).toBe(basisOf(one));
        else {
          // What was not taken is set against what came in for it.
          const proceeds = Math.round((one.proceedsMinor * one.sharePpm) / 1_000_000);
          expect(taken + proceeds - (gain ?? 0)).toBe(basisOf(one));
        }
      }),
      { numRuns: 300 },
    );
  });
  it('by months counts the first month whole, leaves the last value out and gives the last year the rest', () => {
    const rows = schedule(thing({ kind: 'months', lifeMonths: 36 }, { residualMinor: 100_000 }), years);
    expect(rows.slice(0, 5).map((row) => row.minor)).toEqual([250_000, 300_000, 300_000, 50_000, 0]);
    expect(rows[4]?.leftMinor).toBe(100_000);
  });
  /** 1,000.00 over ten months, in years that end on the 19th: each month is of the year its 15th lies in. */
  it('takes nothing before a thing is in use, and a disposal changes no year gone by, in years that end within a month', () => {
    const spans = [2019, 2020, 2021].map((year) => ({
      from: `${String(year)}-03-20`,
      to: `${String(year + 1)}-03-19`,
    }));
    const ten: Method = { kind: 'months', lifeMonths: 10 };
    const taken = (more: Partial<Depreciable>) =>
      schedule(thing(ten, { costMinor: 100_000, ...more }), spans).map((row) => row.minor);
    // In use from 25 March: after the first year ended, though its March belongs to that year.
    expect(taken({ inServiceOn: '2020-03-25' })).toEqual([0, 100_000, 0]);
    expect(taken({ inServiceOn: '2020-12-05' })).toEqual([0, 40_000, 60_000]);
    // Gone on 25 March: the year to 19 March had taken its four months, and keeps them.
    expect(taken({ inServiceOn: '2020-12-05', disposedOn: '2021-03-25' })).toEqual([0, 40_000, 0]);
  });
  it('stops at a disposal: by months before its month, by table with part of the year, nothing in a first year', () => {
    const gone = { disposedOn: '2021-07-01', proceedsMinor: 500_000 };
    const months = schedule(thing({ kind: 'months', lifeMonths: 50 }, gone), years);
    expect(months.slice(0, 3).map((row) => row.minor)).toEqual([200_000, 120_000, 0]);
    expect(months[1]?.gainMinor).toBe(-180_000);
    const half = schedule(thing({ kind: 'table', classYears: 5, convention: 'halfYear' }, gone), years);
    // Publication 946: half of the year's amount in the year of disposal under the half-year convention.
    expect(half.slice(0, 3).map((row) => row.minor)).toEqual([200_000, 160_000, 0]);
    const quarter = schedule(thing({ kind: 'table', classYears: 5, convention: 'q1' }, gone), years);
    // Publication 946: 62.5 % of the year's amount when disposed of in the third quarter, mid-quarter convention.
    expect(quarter.slice(0, 2).map((row) => row.minor)).toEqual([350_000, 162_500]);
    const soon = { disposedOn: '2020-11-02', proceedsMinor: 1_200_000 };
    const same = schedule(thing({ kind: 'table', classYears: 7, convention: 'halfYear' }, soon), years);
    expect([same[0]?.minor, same[0]?.gainMinor, same[0]?.leftMinor]).toEqual([0, 200_000, 0]);
  });
  it('takes only the workshop’s share, of a disposal too', () => {
    const rows = schedule(
      thing(
        { kind: 'months', lifeMonths: 12 },
        { sharePpm: 250_000, disposedOn: '2020-03-31', proceedsMinor: 800_000 },
      ),
      years,
    );
    expect([rows[0]?.minor, rows[0]?.gainMinor]).toEqual([0, -50_000]);
  });
});

describe('the limit of small tools (Treas. Reg. §1.263(a)-1(f), Notice 2015-82)', () => {
  const limit = 250_000;
  it('C3a: up to 2,500 for each item as invoiced (read in two advisers’ texts)', () => {
    expect([smallTool(250_000, limit), smallTool(250_001, limit)]).toEqual(['mayBeExpense', 'aboveLimit']);
  });
  it('C3b, C3c: five at 2,495 may be expenses, with 50 of delivery none of them (read, one adviser’s example)', () => {
    expect(smallTool(pieceWithDelivery(5 * 249_500, 0, 5), limit)).toBe('mayBeExpense');
    const each = pieceWithDelivery(5 * 249_500, 5000, 5);
    expect([each, smallTool(each, limit)]).toEqual([250_500, 'aboveLimit']);
  });
  it('C3e: never for what goes into knives (read, list of exclusions); says nothing without a limit', () => {
    expect([smallTool(100, limit, true), smallTool(100, null)]).toEqual(['isStock', 'noLimit']);
  });
});

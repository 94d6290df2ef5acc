/** ASTM E140 table 1 (non-austenitic steels), read in published copies: mikipulley.co.jp, nhatvietindustry.com.vn, phase2plus.com. */
import { describe, expect, it } from 'vitest';
import {
  beyondBall,
  convertHardness,
  hardnessTable,
  hardnessWords,
  toMilliHrc,
} from '../../electron/domain/hardness.ts';

const valueOf = (value: number, from: 'HRC' | 'HV' | 'HBW', to: 'HRC' | 'HV' | 'HBW'): number | string => {
  const found = convertHardness(value, from, to);
  return found.ok ? found.value : found.message;
};

describe('the rows that were read', () => {
  it.each([
    [66, 865, undefined],
    [65, 832, 739],
    [63, 772, 705],
    [62, 746, 688],
    [60, 697, 654],
    [58, 653, 615],
    [56, 613, 577],
    [55, 595, 560],
    [54, 577, 543],
    [51, 528, 496],
    [50, 513, 481],
  ])('%i HRC is %i HV and %s HBW', (hrc, hv, hbw) => {
    // Two copies print 745 at 62 HRC and two 746: within 1 HV.
    expect(Math.abs(Number(valueOf(hrc, 'HRC', 'HV')) - hv)).toBeLessThanOrEqual(1);
    expect(valueOf(hv, 'HV', 'HRC')).toBe(hrc);
    if (hbw !== undefined) expect(valueOf(hrc, 'HRC', 'HBW')).toBe(hbw);
  });
});

describe('the table as a whole', () => {
  it('falls on every scale from row to row, so that a mistyped row would show', () => {
    for (const [at, row] of hardnessTable.entries()) {
      const next = hardnessTable[at + 1];
      if (next === undefined) break;
      expect([row.hrc - next.hrc, row.hv > next.hv]).toEqual([1, true]);
      if (row.hbw !== null && next.hbw !== null) expect(row.hbw).toBeGreaterThan(next.hbw);
      // Steps shrink towards soft steel: no row jumps.
      expect(row.hv - next.hv).toBeLessThanOrEqual(40);
    }
  });

  it.each([19.9, 68.1, 0, 100])('refuses to convert %f HRC', (hrc) => {
    expect(valueOf(hrc, 'HRC', 'HV')).toContain('outside the table');
  });

  it('goes straight between two rows', () => {
    expect(valueOf(61.5, 'HRC', 'HV')).toBe((746 + 720) / 2);
  });

  it('marks Brinell above 58 HRC as beyond its ball (bracketed in the table)', () => {
    expect([beyondBall(58_000), beyondBall(60_000)]).toEqual([false, true]);
  });
});

describe('the reporting form (E140 section 7: measured first, converted in brackets, whole numbers)', () => {
  it.each([
    [353_000, 'HBW', '353 HBW (38 HRC)'],
    [62_000, 'HRC', '62 HRC (746 HV)'],
    [61_500, 'HRC', '61.5 HRC (733 HV)'],
    [697_000, 'HV', '697 HV (60 HRC)'],
    [12_000, 'HRC', '12 HRC'],
  ] as const)('%i thousandths of %s read %s', (milli, scale, words) => {
    expect(hardnessWords(milli, scale)).toBe(words);
  });

  it('compares on one scale', () => {
    expect(toMilliHrc(746_000, 'HV')).toEqual({ ok: true, value: 62_000 });
    expect(toMilliHrc(75_000, 'HRC').ok).toBe(false);
  });
});

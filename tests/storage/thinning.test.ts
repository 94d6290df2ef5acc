import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Aged, copiesToDrop, copyIsDue } from '../../electron/storage/thinning.ts';

const DAY = 86_400_000;
const START = Date.parse('2024-01-01T12:00:00.000Z');
const copy = (seq: number, at: string, pinned = false): Aged => ({ name: `c${seq}`, at, seq, pinned });
const daily = (days: number, perDay = 1): Aged[] =>
  Array.from({ length: days * perDay }, (_, n) =>
    copy(n + 1, new Date(START + Math.floor(n / perDay) * DAY + (n % perDay) * 3_600_000).toISOString()),
  );
const kept = (copies: readonly Aged[]): string[] => {
  const dropped = copiesToDrop(copies);
  return copies.map(({ name }) => name).filter((name) => !dropped.includes(name));
};
const names = (...seqs: number[]): string[] => seqs.map((seq) => `c${seq}`);

describe('thinning of safety copies', () => {
  it.each<[string, Aged[], string[]]>([
    ['nothing of nothing', [], []],
    ['the only one', daily(1), names(1)],
    ['all of twelve days', daily(12), names(...Array.from({ length: 12 }, (_, n) => n + 1))],
    // Days 2–13 by day; 2024-01-07 is a Sunday: day 7 ends week 1 and day 13 is the newest of week 2.
    ['twelve of thirteen days', daily(13), names(2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13)],
    ['the last of each day', daily(2, 3), names(3, 6)],
    // Days 49–60, the Sundays of ten weeks back (7, 14 … 56), the last of January (31) and of February (60).
    [
      'days, then weeks, then months',
      daily(60),
      names(7, 14, 21, 28, 31, 35, 42, ...Array.from({ length: 12 }, (_, n) => n + 49)),
    ],
    [
      'what was pinned, in any number',
      [
        ...daily(20)
          .slice(0, 3)
          .map((each) => ({ ...each, pinned: true })),
        ...daily(20).slice(3),
      ],
      names(1, 2, 3, 7, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20),
    ],
  ])('keeps %s', (_what, copies, expected) => {
    expect(kept(copies)).toEqual(expected);
  });

  it('keeps at most 12 + 10 + 9 after two years of daily copies', () => {
    expect(kept(daily(730)).length).toBeLessThanOrEqual(31);
    expect(kept(daily(730)).length).toBeGreaterThanOrEqual(25);
  });

  it('never drops the newest books when the clock was set back a year', () => {
    const back = [...daily(20), copy(21, '2023-01-05T12:00:00.000Z')];
    expect(kept(back)).toContain('c21');
  });

  it('always keeps the newest, and thinning twice is the same as once', () => {
    const copies = fc.uniqueArray(
      fc.record({ seq: fc.integer({ min: 1, max: 5000 }), day: fc.integer({ min: 0, max: 1500 }) }),
      { selector: ({ seq }) => seq, minLength: 1, maxLength: 120 },
    );
    fc.assert(
      fc.property(copies, (raw) => {
        const list = raw.map(({ seq, day }) => copy(seq, new Date(START + day * DAY).toISOString()));
        const once = kept(list);
        expect(once).toContain(`c${Math.max(...raw.map(({ seq }) => seq))}`);
        expect(kept(list.filter(({ name }) => once.includes(name)))).toEqual(once);
      }),
    );
  });

  it.each([
    ['2024-07-06T10:00:00.000Z', undefined, true],
    ['2024-07-06T10:00:00.000Z', '2024-07-05T10:00:01.000Z', false],
    ['2024-07-06T10:00:00.000Z', '2024-07-05T10:00:00.000Z', true],
    ['2024-07-06T10:00:00.000Z', '2024-07-07T10:00:00.000Z', true],
  ])('at %s with the last one of %s, a copy is due: %s', (now, last, due) => {
    expect(copyIsDue(now, last)).toBe(due);
  });
});

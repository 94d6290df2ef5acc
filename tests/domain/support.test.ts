/** Times of support. No outside source says how a membership is counted: the laws here are the house's own. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addDays } from '../../electron/domain/calendar.ts';
import { folded } from '../../electron/domain/folding.ts';
import { orderedSpans, supportOn, type SupportSpan, unitedSpans } from '../../electron/domain/support.ts';
import { twinsAmong } from '../../electron/domain/twins.ts';

const day = (n: number): string => addDays('2024-01-01', n);
const ranks: Readonly<Record<string, number>> = { low: 1, mid: 2, high: 3 };
const rankOf = (id: string): number => ranks[id] ?? 0;

/** Times of one entry that never overlap; the first may reach back before the books, the last may run. */
const entry = (name: string): fc.Arbitrary<readonly SupportSpan[]> =>
  fc
    .tuple(
      fc.uniqueArray(fc.nat({ max: 60 }), { minLength: 2, maxLength: 6 }),
      fc.array(fc.constantFrom('low', 'mid', 'high'), { minLength: 3, maxLength: 3 }),
      fc.boolean(),
      fc.boolean(),
    )
    .map(([days, levels, before, runs]) => {
      const sorted = days.toSorted((a, b) => a - b);
      const spans: SupportSpan[] = [];
      for (let at = 0; at + 1 < sorted.length; at += 2) {
        const [from = 0, until = 0] = sorted.slice(at, at + 2);
        spans.push({
          id: `${name}${String(at)}`,
          levelId: levels[at / 2] ?? 'low',
          from: before && at === 0 ? null : day(from),
          until: runs && at + 3 >= sorted.length ? null : day(until),
        });
      }
      return spans;
    });

describe('two entries that are one person', () => {
  it('support each day once, at the higher of the two levels, in times that never overlap', () => {
    fc.assert(
      fc.property(entry('a'), entry('b'), (a, b) => {
        let made = 0;
        const united = unitedSpans([...a, ...b], rankOf, () => `new${String((made += 1))}`);
        expect(orderedSpans(united)).toMatchObject({ ok: true });
        expect(new Set(united.map(({ id }) => id)).size).toBe(united.length);
        for (let n = -2; n < 64; n += 1) {
          const on = (spans: readonly SupportSpan[]) => supportOn(spans, day(n))?.levelId;
          const then = [on(a), on(b)].filter((level) => level !== undefined);
          const higher = then.toSorted((x, y) => rankOf(y) - rankOf(x))[0];
          expect([n, on(united)]).toEqual([n, higher]);
        }
      }),
      { numRuns: 80 },
    );
  });
});

describe('ten thousand entries', () => {
  it('are searched for the same person in one pass, and strangers are left alone', () => {
    const blank = { email: '', phone: '', address: '', city: '', postcode: '' };
    const people = Array.from({ length: 10_000 }, (_, at) => ({
      ...blank,
      id: String(at),
      name: `Person ${String(at)} of Nowhere`,
      phone: `+1 202 ${String(5_550_000 + at)}`,
    }));
    const twin = { ...blank, id: 'twin', name: 'nowhere, person 77 OF' };
    expect(twinsAmong([...people, twin], 200)).toEqual([{ a: '77', b: 'twin', why: ['name'] }]);
  });
});

describe('text made alike', () => {
  // Unicode Standard, chapter 5.18 and UAX #15: case folding and compatibility decomposition.
  it.each([
    ['STRASSE', 'Straße'],
    ['ΟΔΟΣ', 'οδος'],
    ['Ödön', 'odon'],
    ['ﬁne', 'FINE'],
    ['Ａｂｃ', 'abc'],
    ['  two   words ', 'two words'],
  ])('%s is as %s', (one, other) => {
    expect(folded(one)).toBe(folded(other));
  });
});

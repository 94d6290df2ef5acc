import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { factorFromPace, factorFromTable } from '../../electron/domain/practice.ts';
import { compareWays, type TrialKnife } from '../../electron/domain/trial.ts';

/** The invented demo: hand finish of the plain chef's knife, paper then stone; factors by place 1 to 7, 10 and 11. */
const factors = [1.15, 1.1, 1.06, 1.03, 1.01, 1, 0.98, 0.97, 0.96, 0.95, 0.95, 0.94];
const knife = (minutes: number, n: number, begun: string): TrialKnife => ({
  minutes,
  begun,
  factor: factorFromTable(factors, n) ?? 1,
});
const paper = [345, 330, 320, 310, 305].map((minutes, at) =>
  knife(minutes, at + 1, `2024-0${String(at + 1)}-01`),
);
const stone = [
  knife(240, 6, '2025-03-29'),
  knife(235, 7, '2025-03-29'),
  knife(230, 10, '2025-05-17'),
  knife(230, 11, '2025-09-06'),
];

describe('two ways of one stage', () => {
  it('gives both sums and the warning', () => {
    const found = compareWays(paper, stone, 1);
    expect(found?.raw.first.mean).toBe(322);
    expect(found?.raw.second.mean).toBe(233.75);
    expect(Math.round((found?.raw.saving ?? 0) * 100)).toBe(27);
    expect(found?.practised.first.mean).toBeCloseTo(301, 1);
    expect(found?.practised.second.mean).toBeCloseTo(241, 0);
    expect(Math.round((found?.practised.saving ?? 0) * 100)).toBe(20);
    expect(found?.warnings).toEqual(['changedWithExperience']);
    expect(found?.practised.drawn.low).toBeGreaterThan(0.15);
    expect(found?.raw.welch?.low).toBeGreaterThan(0);
  });
  it('says too few, and that practice is not known', () => {
    const found = compareWays(paper.slice(0, 1), stone.slice(0, 2), 1);
    expect(found?.warnings).toEqual(['tooFew', 'changedWithExperience']);
    expect(found?.raw.noWelch).toContain('Too few to say');
    // One knife has no spread, so how many would be needed cannot be told from it.
    expect(found?.raw.needed).toBeNull();
    // Known of the first way alone, it would be divided out of one side: 322/301 would stand against the raw 233.75.
    const half = compareWays(
      paper,
      stone.map((one) => ({ ...one, factor: null })),
      1,
    );
    expect(half?.warnings).toEqual(['changedWithExperience', 'noPractice']);
    expect(half?.practised.first.mean).toBe(322);
    // A pace of exactly 1 is known, and changes nothing.
    const plain = [...paper, ...stone].map((one) => ({ ...one, factor: 1 }));
    expect(compareWays(plain.slice(0, 5), plain.slice(5), 1)?.warnings).not.toContain('noPractice');
    expect(compareWays([], stone, 1)).toBeUndefined();
  });
  it('says it plainly where all took the same', () => {
    const same = (begun: string) => [knife(60, 6, begun), knife(60, 6, begun), knife(60, 6, begun)];
    const found = compareWays(same('2025-01-01'), same('2025-01-01'), 1);
    expect([found?.raw.welch, found?.raw.saving, found?.raw.needed]).toEqual([null, 0, null]);
    expect(found?.raw.noWelch).toContain('exactly the same');
    expect(found?.raw.drawn).toEqual({ low: 0, high: 0 });
    // 595 ÷ 1.2 three times: the mean is off by its last digit, which is no spread and proves no difference.
    const divided = (minutes: number) => [1, 2, 3].map(() => ({ minutes, begun: 'x', factor: 1.2 }));
    const noise = compareWays(divided(595), divided(590), 1)?.practised;
    expect([noise?.welch, noise?.needed]).toEqual([null, null]);
  });
  it('saves the same share whatever the minutes are counted in', () => {
    const minutes = fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 3, maxLength: 6 });
    fc.assert(
      fc.property(minutes, minutes, fc.integer({ min: 2, max: 60 }), (a, b, by) => {
        const way = (values: readonly number[], scale: number) =>
          values.map((value) => knife(value * scale, 6, 'x'));
        const [one, other] = [compareWays(way(a, 1), way(b, 1), 5), compareWays(way(a, by), way(b, by), 5)];
        expect(other?.raw.saving).toBeCloseTo(one?.raw.saving ?? Number.NaN, 9);
        expect(other?.raw.drawn.low).toBeCloseTo(one?.raw.drawn.low ?? Number.NaN, 9);
        if (one?.raw.welch) expect(other?.raw.welch?.p).toBeCloseTo(one.raw.welch.p, 9);
      }),
      { numRuns: 15 },
    );
  });
});

describe('practice', () => {
  it('comes from a table by place, and stays at its last', () => {
    expect([factorFromTable(factors, 1), factorFromTable(factors, 40), factorFromTable([], 1)]).toEqual([
      1.15,
      0.94,
      undefined,
    ]);
  });
  it('comes from the pace of the other stages of the same knife', () => {
    expect(factorFromPace({ minutes: 790, usual: 685 })).toBeCloseTo(1.1533, 4);
    expect(factorFromPace({ minutes: 0, usual: 685 })).toBeUndefined();
  });
});

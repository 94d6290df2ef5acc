/** Guesses of three points, and waiting in a queue; each block names its source. */
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { guessFigures, guessMean, guessSd } from '../../electron/domain/beta-guess.ts';
import { daysBetween } from '../../electron/domain/calendar.ts';
import { openAt, rateNeeded, waitWith } from '../../electron/domain/littles-law.ts';
import { forecast, type QueuedKnife } from '../../electron/domain/promise.ts';
import { spreadOf } from '../../electron/domain/spread.ts';
import {
  triangularFigures,
  triangularMean,
  triangularQuantile,
  triangularSd,
} from '../../electron/domain/triangular.ts';

const guess = { least: 24, likely: 28, most: 36 };
const knife = (id: string, minutes: number): QueuedKnife => ({
  id,
  minutes,
  minutesAnew: 0,
  loss: 0,
  waitDays: 0,
});
const today = '2026-01-04';
const run = (queue: readonly QueuedKnife[], weeks: readonly number[], paces: readonly number[] = []) => {
  const found = forecast(queue, { weeks, paces }, { today, closed: [], seed: 11 });
  if (!found.ok) throw new Error(found.message);
  return found.value.map((one) => [daysBetween(today, one.half), daysBetween(today, one.likely)] as const);
};

describe('a guess of 24, 28, 36 (textbook example of a three-point estimate; calculated)', () => {
  it('has a mean of 29.3333 and a standard deviation of 2.4944', () => {
    expect([triangularMean(guess), triangularSd(guess)]).toEqual([
      expect.closeTo(29.3333, 4),
      expect.closeTo(2.4944, 4),
    ]);
  });
  it('is drawn with that mean and spread, within its ends', () => {
    const drawn = triangularFigures(guess, 2000);
    const spread = spreadOf(drawn);
    expect(spread?.mean).toBeCloseTo(triangularMean(guess), 3);
    expect(spread?.sd).toBeCloseTo(triangularSd(guess), 2);
    expect([(spread?.least ?? 0) >= 24, (spread?.most ?? 99) <= 36]).toEqual([true, true]);
    // The share below the likeliest is (28 − 24) ÷ (36 − 24).
    expect(triangularQuantile(guess, 1 / 3)).toBeCloseTo(28, 12);
    expect(triangularQuantile({ least: 5, likely: 5, most: 5 }, 0.9)).toBe(5);
  });
  it('moves the half and the 85 % day of the queue to where its formula has them', () => {
    // One hundred minutes a week and 2,800 to work: a pace of 1 is 28 weeks.
    const paces = triangularFigures(guess, 1000).map((weeks) => weeks / 28);
    const [half, likely] = run([knife('a', 2800)], [100], paces)[0] ?? [Number.NaN, Number.NaN];
    expect(Math.abs(half - 7 * triangularQuantile(guess, 0.5))).toBeLessThan(2);
    expect(Math.abs(likely - 7 * triangularQuantile(guess, 0.85))).toBeLessThan(2);
  });
});

describe('the beta rule of a guess of three points', () => {
  it.each([
    // Exercise of a project plan (published solution; read, recomputed): least, likely, most, mean, deviation.
    [5, 5, 7, 5.33, 0.33],
    [1, 2, 5, 2.33, 0.67],
    [4, 8, 13, 8.17, 1.5],
    [1, 10, 17, 9.67, 2.67],
    [1, 5, 7, 4.67, 1],
    [2, 6, 9, 5.83, 1.17],
    // Another one (read; its printed sum is a slip, its answer is not).
    [24, 28, 36, 28.67, 2],
  ])('%d, %d, %d have a mean of %d', (least, likely, most, mean, sd) => {
    expect(guessMean({ least, likely, most })).toBeCloseTo(mean, 2);
    expect(guessSd({ least, likely, most })).toBeCloseTo(sd, 2);
  });
  it('is drawn as the beta distribution of a general-purpose library has it, with the mean of the rule', () => {
    for (const { least, likely, most } of [guess, { least: 5, likely: 5, most: 7 }]) {
      const lean = (4 * (likely - least)) / (most - least);
      const drawn = guessFigures({ least, likely, most }, 200);
      for (const at of [0, 9, 99, 150, 199]) {
        const share = jstat.beta.inv((at + 0.5) / 200, 1 + lean, 5 - lean);
        expect(drawn[at]).toBeCloseTo(least + share * (most - least), 2);
      }
      expect(spreadOf(drawn)?.mean).toBeCloseTo(guessMean({ least, likely, most }), 2);
    }
    expect(guessFigures({ least: 3, likely: 3, most: 3 }, 2)).toEqual([3, 3]);
  });
  it('follows one on the other in the queue as in the published forward pass of that plan', () => {
    // One week of one minute for each unit of time: days ÷ 7 are its units.
    const [a, b, c] = [
      guessMean({ least: 5, likely: 5, most: 7 }),
      guessMean({ least: 1, likely: 2, most: 5 }),
      5,
    ];
    const [d, e, f] = [
      guessMean({ least: 4, likely: 8, most: 13 }),
      guessMean({ least: 1, likely: 10, most: 17 }),
      guessMean({ least: 1, likely: 5, most: 7 }),
    ];
    const ends = (...lengths: number[]) =>
      run(
        lengths.map((minutes, at) => knife(String(at), minutes * 100)),
        [100],
      ).map(([half]) => half / 7);
    const [endA = 0, endC = 0, endE = 0] = ends(a, c, e);
    const [, endD = 0, endF = 0] = ends(a, d, f);
    // Days are whole ones, so each end may come up to a seventh of a unit later.
    const late = [endA - 5.33, endC - 10.33, endE - 20, endD - 13.5, endF - 18.17];
    expect(late.every((days) => days > -0.01 && days < 1 / 7)).toBe(true);
    // What may slip before the last one does: 8.00 and 1.83 in the published table.
    expect(a + c - b).toBeCloseTo(8, 2);
    expect(a + c + e - (a + d + f)).toBeCloseTo(1.83, 2);
  });
  it('moves the half and the 85 % day of a guessed knife to where its figures have them, and no other knife’s', () => {
    const paces = guessFigures(guess, 100).map((weeks) => weeks / guessMean(guess));
    const guessed = { ...knife('b', 100 * guessMean(guess)), paces };
    const [[before] = [], [half, likely] = [0, 0]] = run([knife('a', 700), guessed], [100], [0.5, 2]);
    expect(before).toBe(run([knife('a', 700)], [100], [0.5, 2])[0]?.[0]);
    const alone = run([guessed], [100], [0.5, 2])[0] ?? [];
    const ordered = guessFigures(guess, 100);
    expect(Math.abs((alone[0] ?? 0) - 7 * (ordered[49] ?? 0))).toBeLessThan(2);
    expect(Math.abs((alone[1] ?? 0) - 7 * (ordered[84] ?? 0))).toBeLessThan(2);
    expect(likely).toBeGreaterThan(half);
  });
});

describe('Little’s law as it is shown beside the days named (Little, 1961)', () => {
  it('gives the published examples of a shop and of a counter (encyclopaedia; read)', () => {
    // Ten an hour who stay half an hour are five; twenty are ten, or they stay a quarter of an hour.
    expect([openAt(10, 0.5), openAt(20, 0.5), waitWith(5, 20)]).toEqual([5, 10, 0.25]);
    // Two at the counter at ten an hour stand there for 0.2 hours; and the rate from the other two.
    expect([waitWith(2, 10), rateNeeded(5, 0.5)]).toEqual([0.2, 10]);
    // Three knives a week and 27 open are nine weeks (calculated).
    expect([waitWith(27, 3), waitWith(0, 0), waitWith(1, 0)]).toEqual([9, 0, Infinity]);
  });
});

describe('Little’s law, L = λ·W (Little, 1961), on the queue as it is run', () => {
  /** Days the knives of a queue worked off one after the other were open, and how many were on each day. */
  const waited = (knives: number, perWeek: number) => {
    const done = run(
      Array.from({ length: knives }, (_, at) => knife(String(at), 840)),
      [840 * perWeek],
    ).map(([half]) => half);
    const last = Math.max(...done);
    const open = Array.from({ length: last }, (_, day) => done.filter((on) => on > day).length);
    return { done, last, open };
  };
  it.each([
    [27, 3, 9],
    [10, 1, 10],
    [12, 4, 3],
  ])('%i open at %i a week: the last waits %i weeks', (knives, perWeek, weeks) => {
    expect(waited(knives, perWeek).last).toBe(weeks * 7);
  });
  it('holds for the mean number open, the rate they are done at and the mean wait', () => {
    const { done, last, open } = waited(28, 2);
    const meanOpen = open.reduce((sum, n) => sum + n, 0) / last;
    const meanWait = done.reduce((sum, day) => sum + day, 0) / done.length;
    expect(meanOpen).toBeCloseTo((done.length / last) * meanWait, 9);
    // Twice the bench hours halve every wait: the same number open, or half the time (encyclopaedia example; read).
    const faster = waited(28, 4);
    expect(faster.last).toBe(last / 2);
    expect(faster.open[0]).toBe(open[0]);
  });
});

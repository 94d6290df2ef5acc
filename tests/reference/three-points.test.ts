/** Guesses of three points, and waiting in a queue; each block names its source. */
import { describe, expect, it } from 'vitest';
import { daysBetween } from '../../electron/domain/calendar.ts';
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

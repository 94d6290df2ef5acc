import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  doubtAbout,
  parseTimeOfDay,
  sessionSpan,
  shareMinutes,
  timeOfDayText,
} from '../../electron/domain/clock.ts';
import { byDay, coveredMinutes, joined, usualAfter, usualWaits } from '../../electron/domain/waits.ts';

const total = (parts: readonly number[]): number => parts.reduce((so, part) => so + part, 0);
const weights = fc.array(fc.integer({ min: 1, max: 1000 }), { minLength: 1, maxLength: 100 });

describe('sharing a session over a batch', () => {
  it('carries the set-up equally and the rest by weight', () => {
    // By hand: 30 min of set-up are 10 each; the other 90 by 2 : 1 : 0.5 are 51.43, 25.71, 12.86.
    expect(shareMinutes(120, 30, [4, 2, 1])).toEqual([61, 36, 23]);
    expect(shareMinutes(101, 0, [1, 1, 1])).toEqual([34, 34, 33]);
    expect(shareMinutes(60, 60, [9, 1])).toEqual([30, 30]);
    expect(shareMinutes(45, 10, [])).toEqual([]);
  });

  it('adds up to the session, whatever the set-up and the weights, each within a minute of its exact part', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1440 }), fc.nat(1440), weights, (minutes, setup, by) => {
        const parts = shareMinutes(minutes, setup, by);
        const alone = Math.min(setup, minutes);
        expect(total(parts)).toBe(minutes);
        parts.forEach((part, at) => {
          const exact = alone / by.length + ((minutes - alone) * (by[at] ?? 0)) / total(by);
          expect(Math.abs(part - exact)).toBeLessThan(1 + 1e-9);
        });
      }),
    );
  });

  it('makes no difference where all weigh the same', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 1440 }),
        fc.nat(1440),
        fc.integer({ min: 1, max: 20 }),
        (m, s, n) => {
          const even = Array.from({ length: n }, () => 1);
          expect(shareMinutes(m, s, even)).toEqual(shareMinutes(m, 0, even));
        },
      ),
    );
  });
});

const hour = 3_600_000;
const run = { elapsedMs: hour, aheadMs: 0, sinceAnotherDay: false };

describe('a clock that must not be believed', () => {
  it.each([
    ['an hour', run, null],
    ['a session past midnight', { ...run, elapsedMs: 8 * hour, sinceAnotherDay: true }, null],
    ['a night', { ...run, elapsedMs: 9 * hour, sinceAnotherDay: true }, /left on overnight/],
    ['sixteen hours', { ...run, elapsedMs: 16 * hour }, null],
    ['more than sixteen hours', { ...run, elapsedMs: 16 * hour + 1 }, /more than 16 hours.*set forward/],
    ['a start to come', { ...run, elapsedMs: -1 }, /set back/],
    ['books that have seen a later time', { ...run, aheadMs: 3 * hour }, /set back/],
    ['a clock corrected by a second', { ...run, aheadMs: 1000 }, null],
  ])('%s', (_, state, said) => {
    const doubt = doubtAbout(state);
    if (said === null) expect(doubt).toBeNull();
    else expect(doubt).toMatch(said);
  });
});

/** Local midnight and summer time by the IANA time zone data of the runtime. */
const inNewYork = (at: number): string =>
  new Intl.DateTimeFormat('en-CA', { timeZone: 'America/New_York' }).format(at);

describe('the length of a session', () => {
  const span = (from: string, to: string) => sessionSpan(Date.parse(from), Date.parse(to));

  it('is reckoned between instants, so the hour that summer time takes or gives is right', () => {
    // 10 March 2024, 01:30 EST to 03:30 EDT is one hour; 3 November 2024, 00:30 EDT to 02:30 EST is three.
    expect(span('2024-03-10T01:30:00-05:00', '2024-03-10T03:30:00-04:00')).toEqual({ ok: true, value: 60 });
    expect(span('2024-11-03T00:30:00-04:00', '2024-11-03T02:30:00-05:00')).toEqual({ ok: true, value: 180 });
  });

  it.each([
    ['2024-07-06T10:00:00Z', '2024-07-06T09:00:00Z', /ends before it starts/],
    ['2024-07-06T10:00:00Z', '2024-07-06T10:00:20Z', /at least one minute/],
    ['2024-07-06T10:00:00Z', '2024-07-07T11:00:00Z', /longer than a day/],
  ])('refuses %s to %s', (from, to, said) => {
    const read = span(from, to);
    expect(read.ok ? '' : read.message).toMatch(said);
  });

  it.each([
    ['9:30', 570],
    ['9.30', 570],
    ['0930', 570],
    ['9', 540],
    ['14:05', 845],
    ['2:15 pm', 855],
    ['12 am', 0],
    ['12pm', 720],
    ['00:00', 0],
    ['23:59', 1439],
  ])('reads the time of day %s', (text, minutes) => {
    expect(parseTimeOfDay(text)).toEqual({ ok: true, value: minutes });
    expect(parseTimeOfDay(timeOfDayText(minutes))).toEqual({ ok: true, value: minutes });
  });

  it.each(['25:00', '9:75', '13 pm', 'noon', '-1', ''])('refuses the time of day “%s”', (text) => {
    expect(parseTimeOfDay(text).ok).toBe(false);
  });
});

describe('waits', () => {
  it('counts two at once as one, and a gap not at all', () => {
    const at = (from: number, to: number) => ({ from: from * 60_000, to: to * 60_000 });
    expect(coveredMinutes([at(100, 130), at(0, 60), at(30, 90), at(5, 5), at(9, 8)])).toBe(120);
    expect(joined([at(0, 10), at(10, 20)])).toEqual([at(0, 20)]);
  });

  it('never covers more than the stretches together, nor less than the longest', () => {
    const stretch = fc
      .tuple(fc.nat(100_000), fc.nat(5000))
      .map(([from, long]) => ({ from: from * 60_000, to: (from + long) * 60_000 }));
    fc.assert(
      fc.property(fc.array(stretch, { minLength: 1, maxLength: 30 }), (stretches) => {
        const lengths = stretches.map(({ from, to }) => (to - from) / 60_000);
        const covered = coveredMinutes(stretches);
        expect(covered).toBeLessThanOrEqual(total(lengths));
        expect(covered).toBeGreaterThanOrEqual(Math.max(...lengths));
      }),
    );
  });

  it('cuts at local midnight, also on days of 23 and 25 hours', () => {
    // Summer time of America/New_York in 2024 ran from 10 March to 3 November (IANA time zone data).
    const whole = { from: Date.parse('2024-03-09T17:00:00Z'), to: Date.parse('2024-03-11T16:00:00Z') };
    expect(byDay(whole, inNewYork).map(({ on, from, to }) => [on, (to - from) / hour])).toEqual([
      ['2024-03-09', 12],
      ['2024-03-10', 23],
      ['2024-03-11', 12],
    ]);
    const autumn = { from: Date.parse('2024-11-03T04:00:00Z'), to: Date.parse('2024-11-04T05:00:00Z') };
    expect(byDay(autumn, inNewYork).map(({ on, from, to }) => [on, (to - from) / hour])).toEqual([
      ['2024-11-03', 25],
    ]);
  });

  it('offers after a stage what usually follows, inside the usual range', () => {
    // Common practice, no source.
    expect(usualAfter('HDL').map((wait) => [wait.kind, wait.minutes])).toEqual([['glue', 16 * 60]]);
    expect(usualAfter('CUT')).toEqual([]);
    expect(usualAfter(null)).toEqual([]);
    for (const { shortest, minutes, longest } of usualWaits) {
      expect(shortest <= minutes && minutes <= longest).toBe(true);
    }
  });
});

import { describe, expect, it } from 'vitest';
import { demoClock, systemClock } from '../../electron/workshop/core-clock.ts';
import { countingIds, randomId } from '../../electron/workshop/core-ids.ts';

const passes = (clock: { now(): string }) =>
  new Promise<number>((resolve) => {
    const before = Date.parse(clock.now());
    setTimeout(() => resolve(Date.parse(clock.now()) - before), 30);
  });

describe('the clocks', () => {
  it('tell instants in UTC and days in the time zone of the machine', () => {
    const before = Date.now();
    const now = Date.parse(systemClock.now());
    expect([now >= before, now <= Date.now(), systemClock.now().endsWith('Z')]).toEqual([true, true, true]);
    expect([systemClock.today(), systemClock.localDay('2024-07-06T23:59:59.999Z')]).toEqual([
      systemClock.localDay(systemClock.now()),
      '2024-07-06',
    ]);
  });

  it('let the demo run on from the instant it is opened at', async () => {
    const clock = demoClock('2024-12-31T12:00:00.000Z');
    expect([clock.today(), clock.now().slice(0, 17)]).toEqual(['2024-12-31', '2024-12-31T12:00:']);
    const passed = await passes(clock);
    expect(passed >= 25 && passed < 5000).toBe(true);
  });
});

describe('identifiers', () => {
  it('are twenty letters and digits and never the same', () => {
    const ids = Array.from({ length: 2000 }, randomId);
    expect([ids.every((id) => /^[a-z2-7]{20}$/.test(id)), new Set(ids).size]).toEqual([true, 2000]);
  });

  it('count from one when they must be the same at every run', () => {
    const next = countingIds('demo');
    expect([next(), next()]).toEqual(['demo0000000000000001', 'demo0000000000000002']);
  });
});

/** The clocks. The only place in the core that asks the machine what time it is. */
import type { Clock } from './context.ts';

const two = (n: number): string => String(n).padStart(2, '0');

const localDay = (at: Date): string => `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;

const localTime = (at: Date): string => `${two(at.getHours())}:${two(at.getMinutes())}`;

const clockOf = (read: () => Date): Clock => ({
  now: () => read().toISOString(),
  today: () => localDay(read()),
  localDay: (instant) => localDay(new Date(instant)),
  localTime: (instant) => localTime(new Date(instant)),
});

/** The machine's own clock and time zone. */
export const systemClock: Clock = clockOf(() => new Date());

/** The demo workshop's clock: runs on from `asOf` (UTC ISO text) at the pace of the machine's own. */
export function demoClock(asOf: string): Clock {
  const start = Date.parse(asOf);
  const made = performance.now();
  return clockOf(() => new Date(start + Math.round(performance.now() - made)));
}

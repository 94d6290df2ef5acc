/** The clocks. The only place in the core that asks the machine what time it is. */
import type { Clock } from './context.ts';

const two = (n: number): string => String(n).padStart(2, '0');

const localDay = (at: Date): string => `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;

const clockOf = (read: () => Date): Clock => ({
  now: () => read().toISOString(),
  today: () => localDay(read()),
  localDay: (instant) => localDay(new Date(instant)),
});

/** The machine's own clock and time zone. */
export const systemClock: Clock = clockOf(() => new Date());

/** The demo workshop's clock: stands while the past is being replayed, then runs. */
export interface DemoClock extends Clock {
  /** Stands still at an instant (UTC ISO text), for replaying what was done then. */
  standAt(instant: string): void;
  /** Runs on from an instant, at the pace of the machine's own clock. */
  runFrom(instant: string): void;
}

/** A clock that runs from `asOf` (UTC ISO text) until it is told otherwise. */
export function demoClock(asOf: string): DemoClock {
  let start = Date.parse(asOf);
  let since: number | undefined = performance.now();
  const elapsed = (): number => (since === undefined ? 0 : Math.round(performance.now() - since));
  return {
    ...clockOf(() => new Date(start + elapsed())),
    standAt(instant) {
      start = Date.parse(instant);
      since = undefined;
    },
    runFrom(instant) {
      start = Date.parse(instant);
      since = performance.now();
    },
  };
}

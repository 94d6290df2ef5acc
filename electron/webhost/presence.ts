/**
 * Knows which tabs are open, to tell when the program is no longer looked at.
 * A tab that says goodbye counts as closed at once; one that merely falls silent (asleep, frozen by the browser,
 * the machine suspended) is believed to be open for hours, because coming back to a dead page would be worse.
 */

export interface PresenceLimits {
  /** After the last goodbye, how long a reload may take before the program stops. */
  readonly idleMs: number;
  /** After how long a silent tab is given up. */
  readonly silentMs: number;
}

export interface Presence {
  alive(tab: string): void;
  goodbye(tab: string): void;
  /** True once every tab that ever opened is gone for long enough. Call it at even intervals. */
  readonly isOver: () => boolean;
}

const mostTabs = 200;

/** @param now milliseconds; @param tickMs the interval at which `isOver` is asked */
export const createPresence = (now: () => number, limits: PresenceLimits, tickMs: number): Presence => {
  const seen = new Map<string, number>();
  let emptySince: number | undefined;
  let lastTick = now();
  return {
    alive(tab) {
      if (seen.size >= mostTabs && !seen.has(tab)) return;
      seen.set(tab, now());
      emptySince = undefined;
    },
    goodbye(tab) {
      if (seen.delete(tab) && seen.size === 0) emptySince = now();
    },
    isOver() {
      const asleep = now() - lastTick - tickMs;
      lastTick = now();
      if (asleep > tickMs * 2) {
        // The machine was suspended: nobody could have called, so that time does not count.
        for (const [tab, at] of seen) seen.set(tab, at + asleep);
        if (emptySince !== undefined) emptySince += asleep;
      }
      for (const [tab, at] of seen) {
        if (now() - at > limits.silentMs && seen.delete(tab) && seen.size === 0) emptySince = now();
      }
      if (seen.size > 0 || emptySince === undefined) return false;
      return now() - emptySince >= limits.idleMs;
    },
  };
};

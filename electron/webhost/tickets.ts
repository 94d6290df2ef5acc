/** Addresses under which one file may be fetched once: a browser's download shows no key of its own. */
import { randomBytes } from 'node:crypto';

const ticketLifeMs = 60_000;
const mostOpen = 20;

/** A file that may be fetched. */
export interface Offered {
  readonly path: string;
  readonly name: string;
}

export interface Tickets {
  /** @returns the path of the address, good for one request within a minute */
  issue(file: Offered): string;
  /** @param target the path as requested */
  redeem(target: string): Offered | undefined;
}

/** @param now milliseconds, steadily rising */
export const createTickets = (now: () => number): Tickets => {
  const open = new Map<string, { readonly file: Offered; readonly until: number }>();
  return {
    issue(file) {
      for (const [target, { until }] of open) if (now() > until) open.delete(target);
      if (open.size >= mostOpen) open.clear();
      const target = `/archive/${randomBytes(24).toString('base64url')}`;
      open.set(target, { file, until: now() + ticketLifeMs });
      return target;
    },
    redeem(target) {
      const found = open.get(target);
      open.delete(target);
      return found !== undefined && now() <= found.until ? found.file : undefined;
    },
  };
};

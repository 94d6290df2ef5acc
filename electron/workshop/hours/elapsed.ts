/** The two clocks of one knife: what was worked on it, and what it spent waiting. */
import type { Elapsed } from '../../api/hours.ts';
import { daysBetween } from '../../domain/calendar.ts';
import { coveredMinutes } from '../../domain/waits.ts';
import { sessionDays } from '../../storage/queries/hours.ts';
import { waitRows } from '../../storage/queries/waits.ts';
import { needBuild } from '../builds/touch.ts';
import type { QueryContext } from '../context.ts';
import { stretchOf } from '../waits/views.ts';

type Days = readonly (string | null | undefined)[];
const known = (days: Days): string[] => days.filter((day) => day !== null && day !== undefined);
const earliest = (days: Days): string | null => known(days).sort()[0] ?? null;
const latest = (days: Days): string | null => known(days).sort().at(-1) ?? null;

/** @throws FaultError for an unknown knife */
export function elapsedOf(ctx: Pick<QueryContext, 'db' | 'clock'>, buildId: string): Elapsed {
  const build = needBuild(ctx.db, buildId);
  const now = ctx.clock.now();
  const stretches = waitRows(ctx.db, { open: false, buildId })
    .filter((row) => row.dropped_at === null)
    .map((row) => stretchOf(row, now));
  const dayOf = (at: number): string => ctx.clock.localDay(new Date(at).toISOString());
  const worked = sessionDays(ctx.db, buildId);
  const firstOn = earliest([build.started_on, worked?.first, ...stretches.map(({ from }) => dayOf(from))]);
  const lastOn = latest([build.finished_on, worked?.last, ...stretches.map(({ to }) => dayOf(to))]);
  return {
    attendedMinutes: build.minutes,
    waitMinutes: coveredMinutes(stretches),
    firstOn,
    lastOn: lastOn ?? firstOn,
    days: firstOn === null ? 0 : daysBetween(firstOn, lastOn ?? firstOn) + 1,
  };
}

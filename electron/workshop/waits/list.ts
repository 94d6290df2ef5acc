/** Use-case: which waits there are. */
import type { Wait } from '../../api/waits.ts';
import { addDays } from '../../domain/calendar.ts';
import { waitRows } from '../../storage/queries/waits.ts';
import type { QueryContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { toWaits } from './views.ts';

/** Waits that still run or wait to be seen to, the one that ends first on top. */
export const openWaits = (ctx: Pick<QueryContext, 'db' | 'clock'>): Wait[] =>
  toWaits(ctx.db, waitRows(ctx.db, { open: true }), ctx.clock.now());

/** Waits by knife and by the days on which they ran. */
export const list: HandlerFor<'waits.list'> = (ctx, { open, buildId, from, to }) => {
  // A day further on both sides than asked: where local midnight lies is not known to the query.
  const rows = waitRows(ctx.db, {
    open,
    buildId,
    from: from === undefined ? undefined : `${addDays(from, -1)}T00:00:00.000Z`,
    to: to === undefined ? undefined : `${addDays(to, 2)}T00:00:00.000Z`,
  });
  const now = ctx.clock.now();
  return toWaits(ctx.db, rows, now).filter(
    (wait) =>
      (from === undefined || ctx.clock.localDay(wait.doneAt ?? now) >= from) &&
      (to === undefined || ctx.clock.localDay(wait.startedAt) <= to),
  );
};

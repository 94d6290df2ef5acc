/** Use-cases: what an hour costs, from which day on. */
import type { Rate } from '../../api/workshop.ts';
import { rateRows } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from './need.ts';

/** Every rate, newest first within each kind. */
export const rates: HandlerFor<'workshop.rates'> = (ctx) =>
  rateRows(ctx.db).map((row) => ({
    id: row.id,
    kind: row.kind as Rate['kind'],
    from: row.from_date,
    perHourMicro: row.per_hour_micro,
    note: row.note,
  }));

/** Sets the rate from a day on. A rate that began on the same day is corrected. */
export const setRate: HandlerFor<'workshop.setRate'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const columns = { per_hour_micro: input.perHourMicro, note: input.note };
    const row = { id: ctx.newId(), kind: input.kind, from_date: input.from, ...columns };
    const { q } = ctx.db;
    ctx.db.run(
      q
        .insertInto('rates')
        .values(row)
        .onConflict((conflict) => conflict.columns(['kind', 'from_date']).doUpdateSet(columns)),
    );
    const saved = rateRows(ctx.db).find((each) => each.kind === input.kind && each.from_date === input.from);
    return {
      id: saved?.id ?? row.id,
      kind: input.kind,
      from: input.from,
      perHourMicro: input.perHourMicro,
      note: input.note,
    };
  },
};

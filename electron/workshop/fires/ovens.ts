/** Use-cases: ovens and forges, and what a kilowatt-hour costs. */
import type { Tariff } from '../../api/fires.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { fireNamed, type FireRow, fireRow, fireRows, tariffRows } from '../../storage/queries/fires.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem, type NeededItem } from '../stock/draw.ts';
import { needWorkshop } from '../workshop/need.ts';
import { toFire } from './views.ts';

/** An oven or forge. @throws FaultError `missing` for an unknown id */
export function needFire(db: ReadDb, id: string): FireRow {
  const row = fireRow(db, id);
  if (row === undefined) throw missing('This oven or forge does not exist any more. Reload the list.');
  return row;
}

/** Gas. @throws FaultError when the item is unknown or not kept by weight */
export function needGas(db: ReadDb, itemId: string, field: string): NeededItem {
  const item = needItem(db, itemId);
  if (item.form === 'weight') return item;
  throw invalid(
    `${item.name} is not kept by weight. Choose gas that is, or make an item for the cylinder by weight.`,
    field,
  );
}

/** Every oven and forge, those in use first. */
export const fires: HandlerFor<'fires.list'> = (ctx, { includeArchived }) =>
  fireRows(ctx.db, includeArchived).map(toFire);

/** Adds an oven or a forge, or changes one. */
export const saveFire: HandlerFor<'fires.save'> = {
  run(ctx, { id, ...input }) {
    needWorkshop(ctx.db);
    const other = fireNamed(ctx.db, input.name);
    if (other !== undefined && other !== id)
      throw refused('There is an oven or forge of this name already. Choose another name.', 'name');
    if (input.gasItemId !== null) needGas(ctx.db, input.gasItemId, 'gasItemId');
    const columns = {
      name: input.name,
      kind: input.kind,
      watts: input.watts,
      duty_ppm: input.dutyPpm,
      burn_rate_ng: input.burnRateNg,
      gas_item_id: input.gasItemId,
      note: input.note,
      archived: Number(input.archived),
    };
    const { q } = ctx.db;
    if (id === undefined) {
      const fresh = ctx.newId();
      ctx.db.run(q.insertInto('fires').values({ id: fresh, ...columns }));
      return toFire(needFire(ctx.db, fresh));
    }
    needFire(ctx.db, id);
    ctx.db.run(q.updateTable('fires').set(columns).where('id', '=', id));
    return toFire(needFire(ctx.db, id));
  },
};

const listTariffs = (db: ReadDb): Tariff[] =>
  tariffRows(db).map((row) => ({ from: row.from_date, perKwhMicro: row.per_kwh_micro, note: row.note }));

/** Prices of current, newest first. */
export const tariffs: HandlerFor<'fires.tariffs'> = (ctx) => listTariffs(ctx.db);

/** Sets the price of current from a day on; firings booked before keep theirs. */
export const setTariff: HandlerFor<'fires.setTariff'> = {
  run(ctx, { from, perKwhMicro, note }) {
    needWorkshop(ctx.db);
    const columns = { per_kwh_micro: perKwhMicro, note };
    ctx.db.run(
      ctx.db.q
        .insertInto('tariffs')
        .values({ from_date: from, ...columns })
        .onConflict((on) => on.column('from_date').doUpdateSet(columns)),
    );
    return listTariffs(ctx.db);
  },
};

/** Use-cases: reading models and setting their list prices. */
import type { ModelDetail, ModelRow } from '../../api/builds.ts';
import { missing } from '../../api/errors.ts';
import type { Use } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  modelFlatRows,
  modelOptionRows,
  modelPartRows,
  modelPriceRows,
  modelRow,
  modelRows,
  modelStageRows,
} from '../../storage/queries/models.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { toModelPart } from './views.ts';

const toModelRow = (row: ReturnType<typeof modelRows>[number]): ModelRow => ({
  id: row.id,
  code: row.code,
  name: row.name,
  family: row.family,
  method: row.method,
  usualMinutes: row.usual_minutes,
  priceMinor: row.price_minor,
  open: row.open,
  finished: row.finished,
  sold: row.sold,
  archived: row.archived === 1,
  bladeNm: row.blade_nm,
  steel: row.steel,
  finish: row.finish,
});

/** A model's row. @throws FaultError `missing` for an unknown id */
export function needModel(db: ReadDb, id: string) {
  const row = modelRow(db, id);
  if (row === undefined) throw missing('This model does not exist any more. Go back to the list.');
  return row;
}

/** A model with everything it usually takes. @throws FaultError `missing` for an unknown id */
export function readModel(db: ReadDb, id: string, today: string): ModelDetail {
  const { note, care } = needModel(db, id);
  const [row] = modelRows(db, { id, on: today, includeArchived: true });
  if (row === undefined) throw new Error('A model was lost on the way to the screen');
  return {
    ...toModelRow(row),
    note,
    stages: modelStageRows(db, id).map(({ code, name, minutes }) => ({ code, name, minutes })),
    parts: modelPartRows(db, id).map(toModelPart),
    flats: modelFlatRows(db, id).map((flat) => ({
      id: flat.id,
      label: flat.label,
      use: flat.use_as as Use,
      amountMicro: flat.amount_micro,
    })),
    prices: modelPriceRows(db, id).map((price) => ({ from: price.from_date, priceMinor: price.price_minor })),
    options: modelOptionRows(db, id).map((option) => ({
      id: option.id,
      name: option.name,
      priceMinor: option.price_minor,
    })),
    care,
  };
}

/** Models by code. */
export const models: HandlerFor<'builds.models'> = (ctx, input) =>
  modelRows(ctx.db, { ...input, on: ctx.clock.today() }).map(toModelRow);

/** One model. */
export const model: HandlerFor<'builds.model'> = (ctx, { id }) => readModel(ctx.db, id, ctx.clock.today());

/** Sets the list price from a day on; a price that began on the same day is corrected. */
export const setPrice: HandlerFor<'builds.setPrice'> = {
  run(ctx, { modelId, from, priceMinor }) {
    needWorkshop(ctx.db);
    needModel(ctx.db, modelId);
    ctx.db.run(
      ctx.db.q
        .insertInto('model_prices')
        .values({ model_id: modelId, from_date: from, price_minor: priceMinor })
        .onConflict((conflict) =>
          conflict.columns(['model_id', 'from_date']).doUpdateSet({ price_minor: priceMinor }),
        ),
    );
    return readModel(ctx.db, modelId, ctx.clock.today());
  },
};

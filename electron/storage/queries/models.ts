/** Reading models: what a maker repeats. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { contains } from './like.ts';

export interface ModelFilter {
  readonly id?: string;
  readonly text?: string;
  readonly includeArchived?: boolean;
  /** The day whose list price is wanted. */
  readonly on: string;
}

/** How many knives of each model are open, finished and sold. */
const knivesPerModel = (db: ReadDb) =>
  db.q
    .selectFrom('builds')
    .groupBy('model_id')
    .select([
      'model_id',
      sql<number>`sum(state IN ('planned', 'inWork'))`.as('open'),
      sql<number>`sum(state = 'finished')`.as('finished'),
      sql<number>`sum(state = 'sold')`.as('sold'),
    ]);

const priceOn = (day: string) =>
  sql<number | null>`(
    SELECT price_minor FROM model_prices p WHERE p.model_id = models.id AND p.from_date <= ${day}
    ORDER BY p.from_date DESC LIMIT 1
  )`;

const usualMinutes = sql<number>`(SELECT coalesce(sum(minutes), 0) FROM model_stages s WHERE s.model_id = models.id)`;

/** Models with their knives counted, by code. */
export function modelRows(db: ReadDb, filter: ModelFilter) {
  let query = db.q
    .selectFrom('models')
    .leftJoin(knivesPerModel(db).as('knives'), 'knives.model_id', 'models.id')
    .selectAll('models')
    .select(({ fn }) => [
      usualMinutes.as('usual_minutes'),
      priceOn(filter.on).as('price_minor'),
      fn.coalesce('knives.open', sql<number>`0`).as('open'),
      fn.coalesce('knives.finished', sql<number>`0`).as('finished'),
      fn.coalesce('knives.sold', sql<number>`0`).as('sold'),
    ])
    .orderBy('models.archived')
    .orderBy('models.code');
  if (filter.id !== undefined) query = query.where('models.id', '=', filter.id);
  if (filter.includeArchived !== true) query = query.where('models.archived', '=', 0);
  if (filter.text) {
    const { text } = filter;
    query = query.where((eb) =>
      eb.or([
        contains(eb.ref('models.code'), text),
        contains(eb.ref('models.name'), text),
        contains(eb.ref('models.family'), text),
      ]),
    );
  }
  return db.all(query);
}

/** One model. */
export const modelRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('models').selectAll().where('id', '=', id));

/** The model with a code. */
export const modelWithCode = (db: ReadDb, code: string) =>
  db.one(db.q.selectFrom('models').select('id').where('code', '=', code));

/** Stages of a model, in order. */
export const modelStageRows = (db: ReadDb, modelId: string) =>
  db.all(
    db.q
      .selectFrom('model_stages')
      .innerJoin('stages', 'stages.code', 'model_stages.stage_code')
      .select([
        'model_stages.stage_code as code',
        'stages.name',
        'model_stages.minutes',
        'model_stages.position',
      ])
      .where('model_id', '=', modelId)
      .orderBy('model_stages.position'),
  );

/** Usual parts with what lies on the rack of each. */
export const modelPartRows = (db: ReadDb, modelId: string) =>
  db.all(
    db.q
      .selectFrom('model_parts')
      .innerJoin('items', 'items.id', 'model_parts.item_id')
      .selectAll('model_parts')
      .select([
        'items.name as item_name',
        'items.form',
        'items.unit',
        'items.piece_word',
        'items.kerf_nm',
        'items.costing',
        'items.useful_remnant',
        'items.consumed_by',
        sql<number>`(SELECT coalesce(sum(qty_left), 0) FROM lots WHERE lots.item_id = items.id AND qty_left > 0)`.as(
          'qty_left',
        ),
      ])
      .where('model_parts.model_id', '=', modelId)
      .orderBy('model_parts.position'),
  );

export type ModelPartRow = ReturnType<typeof modelPartRows>[number];

/** Usual flat costs of a model, in order. */
export const modelFlatRows = (db: ReadDb, modelId: string) =>
  db.all(db.q.selectFrom('model_flats').selectAll().where('model_id', '=', modelId).orderBy('position'));

/** Options of a model that are offered, in order. */
export const modelOptionRows = (db: ReadDb, modelId: string) =>
  db.all(
    db.q
      .selectFrom('model_options')
      .selectAll()
      .where('model_id', '=', modelId)
      .where('archived', '=', 0)
      .orderBy('position'),
  );

/** List prices of a model, newest first. */
export const modelPriceRows = (db: ReadDb, modelId: string) =>
  db.all(
    db.q
      .selectFrom('model_prices')
      .select(['from_date', 'price_minor'])
      .where('model_id', '=', modelId)
      .orderBy('from_date', 'desc'),
  );

/** Label of the usual part an item serves in a model, the one of the same use first; empty when it serves none. */
export const partLabelOf = (db: ReadDb, modelId: string, itemId: string, use: string): string =>
  db.one(
    db.q
      .selectFrom('model_parts')
      .select('label')
      .where('model_id', '=', modelId)
      .where('item_id', '=', itemId)
      .orderBy(sql`use_as = ${use}`, 'desc')
      .orderBy('position')
      .limit(1),
  )?.label ?? '';

/** Trials, their ways and exceptions, practice tables, and the minutes and goods knives took on a stage. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { TrialsTable, TrialWaysTable } from '../schema-answers.ts';
import { amongIds } from './like.ts';

/** Trials with the names of their model and stage, newest first. */
export const listTrials = (
  db: ReadDb,
  filter: { readonly id?: string; readonly includeArchived: boolean },
) => {
  let query = db.q
    .selectFrom('trials as t')
    .innerJoin('models as m', 'm.id', 't.model_id')
    .innerJoin('stages as g', 'g.code', 't.stage_code')
    .selectAll('t')
    .select(['m.code as model_code', 'm.name as model_name', 'm.family', 'g.name as stage_name'])
    .orderBy('t.number', 'desc');
  if (filter.id !== undefined) query = query.where('t.id', '=', filter.id);
  if (!filter.includeArchived) query = query.where('t.archived', '=', 0);
  return db.all(query);
};
export type TrialRecord = ReturnType<typeof listTrials>[number];

/** The two ways of a trial, in order. */
export const waysOf = (db: ReadDb, trialId: string) =>
  db.all(db.q.selectFrom('trial_ways').selectAll().where('trial_id', '=', trialId).orderBy('position'));

/** Knives put elsewhere by hand. */
export const exceptionsOf = (db: ReadDb, trialId: string) =>
  db.all(db.q.selectFrom('trial_exceptions').selectAll().where('trial_id', '=', trialId));

/** Highest number of a trial so far. */
export const lastTrialNumber = (db: ReadDb): number =>
  db.one(db.q.selectFrom('trials').select((e) => e.fn.max('number').as('n')))?.n ?? 0;

/** Knives begun of a family (of the model where it has none) in the order they were begun, scrapped ones too. */
export const begunKnives = (db: ReadDb, model: { readonly id: string; readonly family: string }) => {
  const query = db.q
    .selectFrom('builds as b')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .where('b.started_on', 'is not', null)
    .select(['b.id', 'b.serial', 'b.state', 'b.method', 'b.model_id'])
    .select(sql<string>`b.started_on`.as('started_on'))
    .orderBy('b.started_on')
    .orderBy('b.number');
  return db.all(
    model.family === ''
      ? query.where('b.model_id', '=', model.id)
      : query.where('m.family', '=', model.family),
  );
};
export type BegunKnife = ReturnType<typeof begunKnives>[number];

/** Minutes booked and usual by knife and stage, and when the stage was ticked. */
export const stageMinutes = (db: ReadDb, buildIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('build_stages as p')
      .where(amongIds(sql.ref('p.build_id'), buildIds))
      .select(['p.build_id', 'p.stage_code', 'p.usual_minutes', 'p.done_on'])
      .select(
        sql<number>`coalesce((select sum(h.minutes) from session_shares h join sessions s on s.id = h.session_id
          where h.build_id = p.build_id and s.stage_code = p.stage_code and s.current = 1 and s.cancelled = 0), 0)`.as(
          'minutes',
        ),
      ),
  );
export type StageMinutes = ReturnType<typeof stageMinutes>[number];

/** Consumables knives took on one stage, by knife and item; what was taken back is left out. */
export const stageConsumables = (db: ReadDb, buildIds: readonly string[], stageCode: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .where('m.kind', '=', 'draw')
      .where('m.use_as', '=', 'consumable')
      .where('m.stage_code', '=', stageCode)
      .where(amongIds(sql.ref('m.build_id'), buildIds))
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .groupBy(['m.build_id', 'i.id'])
      .select(['m.build_id', 'i.id as item_id', 'i.name', 'i.form', 'i.unit', 'i.piece_word'])
      .select([sql<number>`-sum(m.qty)`.as('qty'), sql<number>`-sum(m.value_micro)`.as('value_micro')]),
  );
export type StageConsumable = ReturnType<typeof stageConsumables>[number];

/** Ways of working seen on a model's begun knives. */
export const methodsOf = (db: ReadDb, modelId: string) =>
  db.all(
    db.q
      .selectFrom('builds')
      .where('model_id', '=', modelId)
      .where('started_on', 'is not', null)
      .where('method', '<>', '')
      .groupBy('method')
      .select(['method', (e) => e.fn.countAll<number>().as('knives')])
      .orderBy(sql`min(started_on)`),
  );

/** The maker's own factors of a family, by place. */
export const practiceOf = (db: ReadDb, family: string): number[] =>
  db
    .all(db.q.selectFrom('practice').select('factor_ppm').where('family', '=', family).orderBy('n'))
    .map((row) => row.factor_ppm);

/** Puts the factors of a family in the place of those before. */
export function writePractice(db: WriteDb, family: string, factorsPpm: readonly number[]): void {
  db.run(db.q.deleteFrom('practice').where('family', '=', family));
  factorsPpm.forEach((factor_ppm, at) => {
    db.run(db.q.insertInto('practice').values({ family, n: at + 1, factor_ppm }));
  });
}

/** Enters or changes a trial with its ways. */
export function writeTrial(
  db: WriteDb,
  isNew: boolean,
  { archived, ...row }: Omit<TrialsTable, 'archived'> & { readonly archived: number },
  ways: readonly Omit<TrialWaysTable, 'trial_id'>[],
): void {
  const { id, ...rest } = row;
  if (isNew) db.run(db.q.insertInto('trials').values({ ...row, archived }));
  else
    db.run(
      db.q
        .updateTable('trials')
        .set({ ...rest, archived })
        .where('id', '=', id),
    );
  db.run(db.q.deleteFrom('trial_ways').where('trial_id', '=', id));
  for (const way of ways) db.run(db.q.insertInto('trial_ways').values({ ...way, trial_id: id }));
}

/** Puts a knife on a side by hand; null lets its way of working decide again. */
export function writePlace(
  db: WriteDb,
  at: { readonly trialId: string; readonly buildId: string },
  place: { readonly position: number; readonly reason: string } | null,
): void {
  db.run(
    db.q.deleteFrom('trial_exceptions').where('trial_id', '=', at.trialId).where('build_id', '=', at.buildId),
  );
  if (place === null) return;
  db.run(
    db.q.insertInto('trial_exceptions').values({ trial_id: at.trialId, build_id: at.buildId, ...place }),
  );
}

/** Reading recipes and records of heat treatment. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { HeatStepsTable } from '../schema-forge.ts';
import { amongIds, contains } from './like.ts';

const recipeSource = (db: ReadDb) =>
  db.q
    .selectFrom('recipes as r')
    .leftJoin('items as i', 'i.id', 'r.steel_item_id')
    .leftJoin('lots as l', 'l.id', 'r.lot_id')
    .selectAll('r')
    .select(['i.name as steel_name', 'l.number as lot_number', 'l.heat_number'])
    .select(sql<number>`(select count(*) from heats h where h.recipe_id = r.id)`.as('used'));

/** Recipes by name, those put away last. */
export const recipeRows = (db: ReadDb, includeArchived: boolean) => {
  const all = recipeSource(db).orderBy('r.archived').orderBy('r.name');
  return db.all(includeArchived ? all : all.where('r.archived', '=', 0));
};
export type RecipeRow = ReturnType<typeof recipeRows>[number];

/** One recipe. */
export const recipeRow = (db: ReadDb, id: string): RecipeRow | undefined =>
  db.one(recipeSource(db).where('r.id', '=', id));

/** Another recipe of that name. */
export const recipeNamed = (db: ReadDb, name: string): string | undefined =>
  db.one(db.q.selectFrom('recipes').select('id').where('name', '=', name))?.id;

/** Steps of some recipes, in order. */
export const recipeStepRows = (db: ReadDb, recipeIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('recipe_steps')
      .selectAll()
      .where(amongIds(sql.ref('recipe_id'), recipeIds))
      .orderBy('recipe_id')
      .orderBy('position'),
  );

/** What one step says, whether of a recipe or of a record. */
export type StepColumns = Omit<HeatStepsTable, 'heat_id'>;

/** Puts a recipe's steps in place of those it had. */
export function replaceRecipeSteps(db: WriteDb, recipeId: string, steps: readonly StepColumns[]): void {
  db.run(db.q.deleteFrom('recipe_steps').where('recipe_id', '=', recipeId));
  for (const step of steps) db.run(db.q.insertInto('recipe_steps').values({ recipe_id: recipeId, ...step }));
}

/** Puts a record's steps and knives in place of those it had. */
export function replaceHeatSteps(
  db: WriteDb,
  heatId: string,
  steps: readonly StepColumns[],
  buildIds: readonly string[],
): void {
  db.run(db.q.deleteFrom('heat_steps').where('heat_id', '=', heatId));
  db.run(db.q.deleteFrom('heat_builds').where('heat_id', '=', heatId));
  for (const step of steps) db.run(db.q.insertInto('heat_steps').values({ heat_id: heatId, ...step }));
  for (const build_id of buildIds)
    db.run(db.q.insertInto('heat_builds').values({ heat_id: heatId, build_id }));
}

export interface HeatFilter {
  readonly text: string;
  readonly buildId?: string | undefined;
}

/** The heat number a typed tag means (`H-0012`, `h12`, `12`), or undefined. */
const numberOfTag = (text: string): number | undefined => {
  const digits = /^(?:h\s*-?\s*)?0*(\d{1,9})$/i.exec(text.trim())?.[1];
  return digits === undefined ? undefined : Number(digits);
};

/** The short name of a heat-treat record, e.g. `H-0012`. */
export const heatTagOf = (number: number): string => `H-${String(number).padStart(4, '0')}`;

const heatSource = (db: ReadDb) =>
  db.q
    .selectFrom('heats as h')
    .leftJoin('recipes as r', 'r.id', 'h.recipe_id')
    .leftJoin('fires as f', 'f.id', 'h.fire_id')
    .leftJoin('baths as b', 'b.id', 'h.bath_id')
    .selectAll('h')
    .select(['r.name as recipe_name', 'f.name as fire_name', 'f.kind as fire_kind'])
    .select(['b.name as bath_name', 'b.flash_milli_c']);

function heatsMatching(db: ReadDb, { text, buildId }: HeatFilter) {
  let found = heatSource(db);
  if (buildId !== undefined) {
    found = found.where(
      sql<boolean>`exists (select 1 from heat_builds x where x.heat_id = h.id and x.build_id = ${buildId})`,
    );
  }
  if (text === '') return found;
  const serial = contains(sql.ref('k.serial'), text);
  return found.where((eb) =>
    eb.or([
      contains(eb.ref('h.batch'), text),
      contains(eb.ref('h.note'), text),
      contains(eb.ref('r.name'), text),
      eb('h.number', '=', numberOfTag(text) ?? -1),
      sql<boolean>`exists (select 1 from heat_builds x join builds k on k.id = x.build_id
        where x.heat_id = h.id and ${serial})`,
    ]),
  );
}

/** A page of records, the newest first. */
export const heatRows = (db: ReadDb, filter: HeatFilter & { limit: number; offset: number }) =>
  db.all(
    heatsMatching(db, filter)
      .orderBy('h.on_date', 'desc')
      .orderBy('h.number', 'desc')
      .limit(filter.limit)
      .offset(filter.offset),
  );
export type HeatListRow = ReturnType<typeof heatRows>[number];

/** How many records match. */
export const heatCount = (db: ReadDb, filter: HeatFilter): number =>
  db.one(
    heatsMatching(db, filter)
      .clearSelect()
      .select((e) => e.fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** One record. */
export const heatRow = (db: ReadDb, id: string): HeatListRow | undefined =>
  db.one(heatSource(db).where('h.id', '=', id));

/** Number of the next record. */
export const nextHeatNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('heats').select((e) => e.fn.max<number | null>('number').as('top')))?.top ?? 0) + 1;

/** Steps of one record, in order. */
export const heatStepRows = (db: ReadDb, heatId: string) =>
  db.all(db.q.selectFrom('heat_steps').selectAll().where('heat_id', '=', heatId).orderBy('position'));

/** Knives of some records, in the order they were planned. */
export const buildsOfHeats = (db: ReadDb, heatIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('heat_builds as x')
      .innerJoin('builds as b', 'b.id', 'x.build_id')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .select(['x.heat_id', 'b.id', 'b.serial', 'b.title', 'b.batch', 'm.name as model_name'])
      .where(amongIds(sql.ref('x.heat_id'), heatIds))
      .orderBy('b.number'),
  );

/** The record a check belongs to: the one it names, else the last one its knife went through by that day. */
const heatOfCheck = sql<string | null>`coalesce(c.heat_id, (
  select h.id from heat_builds x join heats h on h.id = x.heat_id
  where x.build_id = c.build_id and h.on_date <= c.on_date
  order by h.on_date desc, h.number desc limit 1))`;

/** Readings of hardness that count, each with the record it belongs to. */
export const hardnessReadings = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('checks as c')
      .innerJoin('check_readings as v', 'v.check_id', 'c.id')
      .select(['c.id', 'c.scale', 'v.value'])
      .select(heatOfCheck.as('heat_id'))
      .where('c.measure', '=', 'hardness')
      .where('c.voided_reason', 'is', null)
      .orderBy('c.seq')
      .orderBy('v.position'),
  );

/** Which recipe each record followed. */
export const recipesOfHeats = (db: ReadDb) =>
  db.all(db.q.selectFrom('heats').select(['id', 'recipe_id']).where('recipe_id', 'is not', null));

/** Checks of one record: those that name it, and those that can only belong to it. */
export const checkIdsOfHeat = (db: ReadDb, heatId: string): string[] =>
  db
    .all(
      db.q
        .selectFrom('checks as c')
        .select('c.id')
        .where('c.voided_reason', 'is', null)
        .where('c.measure', 'in', ['hardness', 'skate', 'warp', 'cracks'])
        .where(heatOfCheck, '=', heatId)
        .orderBy('c.seq'),
    )
    .map((row) => row.id);

/** Waits that were started from one record. */
export const waitIdsOfHeat = (db: ReadDb, heatId: string): string[] =>
  db
    .all(db.q.selectFrom('waits').select('id').where('heat_id', '=', heatId).orderBy('started_at'))
    .map((row) => row.id);

/** Reading and writing what was checked at the gates, and what they ask for. */
import { sql } from 'kysely';
import type { Insertable } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { CheckReadingsTable, ChecksTable, GateTargetsTable } from '../schema-forge.ts';
import { contains } from './like.ts';

/** The steel a knife was cut from, else the steel its model usually takes. */
const steelOf = (column: 'id' | 'name') =>
  sql<string | null>`coalesce(
    (SELECT i.${sql.ref(column)} FROM movements m JOIN lots l ON l.id = m.lot_id JOIN items i ON i.id = l.item_id
      WHERE m.build_id = builds.id AND m.kind = 'draw' AND i.kind = 'steel'
        AND NOT EXISTS (SELECT 1 FROM movements r WHERE r.reverses_id = m.id)
      ORDER BY m.seq LIMIT 1),
    (SELECT i.${sql.ref(column)} FROM model_parts p JOIN items i ON i.id = p.item_id
      WHERE p.model_id = builds.model_id AND i.kind = 'steel' ORDER BY p.position LIMIT 1))`;

const heatNumberOf = sql<string | null>`(
  SELECT l.heat_number FROM movements m JOIN lots l ON l.id = m.lot_id JOIN items i ON i.id = l.item_id
  WHERE m.build_id = builds.id AND m.kind = 'draw' AND i.kind = 'steel'
    AND NOT EXISTS (SELECT 1 FROM movements r WHERE r.reverses_id = m.id)
  ORDER BY m.seq LIMIT 1)`;

/** What the gates need to know of a knife. */
export const gateKnife = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('builds')
      .select([
        'builds.id',
        'builds.serial',
        'builds.state',
        'builds.model_id',
        steelOf('id').as('steel_item_id'),
      ])
      .where('builds.id', '=', buildId),
  );

/** Everything that is asked for, by measure; a model's own first when one is named. */
export function targetRows(db: ReadDb, modelId?: string) {
  const query = db.q
    .selectFrom('gate_targets as t')
    .leftJoin('models as m', 'm.id', 't.model_id')
    .leftJoin('items as i', 'i.id', 't.steel_item_id')
    .selectAll('t')
    .select(['m.name as model_name', 'm.code as model_code', 'i.name as steel_name'])
    .orderBy('t.measure')
    .orderBy('m.code')
    .orderBy('i.name');
  if (modelId === undefined) return db.all(query);
  return db.all(query.where((eb) => eb.or([eb('t.model_id', '=', modelId), eb('t.model_id', 'is', null)])));
}

/** The target of exactly this measure, model and steel. */
export const targetFor = (
  db: ReadDb,
  { measure, modelId, steelItemId }: { measure: string; modelId: string | null; steelItemId: string | null },
) =>
  db.one(
    db.q
      .selectFrom('gate_targets')
      .select('id')
      .where('measure', '=', measure)
      .where('model_id', 'is', modelId)
      .where('steel_item_id', 'is', steelItemId),
  );

/** One target by id. */
export const targetRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('gate_targets').selectAll().where('id', '=', id));

/** Adds a target. */
export const insertTarget = (db: WriteDb, row: GateTargetsTable): number =>
  db.run(db.q.insertInto('gate_targets').values(row));

/** Writes a target over. */
export const updateTarget = (db: WriteDb, { id, ...row }: GateTargetsTable): number =>
  db.run(db.q.updateTable('gate_targets').set(row).where('id', '=', id));

/** Takes a target away; checks keep what was asked of them. */
export const dropTargetRow = (db: WriteDb, id: string): number =>
  db.run(db.q.deleteFrom('gate_targets').where('id', '=', id));

export interface CheckFilter {
  readonly id?: string;
  readonly buildId?: string;
  readonly heatId?: string;
  readonly text?: string;
  readonly measure?: string | undefined;
  readonly verdict?: string | undefined;
  readonly steelItemId?: string | undefined;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

function checksMatching(db: ReadDb, filter: CheckFilter) {
  let query = db.q
    .selectFrom('checks')
    .innerJoin('builds', 'builds.id', 'checks.build_id')
    .innerJoin('models', 'models.id', 'builds.model_id');
  if (filter.id !== undefined) query = query.where('checks.id', '=', filter.id);
  if (filter.buildId !== undefined) query = query.where('checks.build_id', '=', filter.buildId);
  if (filter.heatId !== undefined) query = query.where('checks.heat_id', '=', filter.heatId);
  if (filter.measure !== undefined) query = query.where('checks.measure', '=', filter.measure);
  if (filter.verdict !== undefined) query = query.where('checks.verdict', '=', filter.verdict);
  if (filter.from !== undefined) query = query.where('checks.on_date', '>=', filter.from);
  if (filter.to !== undefined) query = query.where('checks.on_date', '<=', filter.to);
  if (filter.steelItemId !== undefined) query = query.where(steelOf('id'), '=', filter.steelItemId);
  if (filter.text) {
    const { text } = filter;
    query = query.where((eb) =>
      eb.or([
        contains(eb.ref('builds.serial'), text),
        contains(eb.ref('builds.title'), text),
        contains(eb.ref('models.name'), text),
        contains(eb.ref('checks.note'), text),
      ]),
    );
  }
  return query;
}

/** Checks that fit, newest first; without a limit all of them, oldest first of one knife last. */
export const checkRows = (
  db: ReadDb,
  filter: CheckFilter,
  page: { readonly limit: number; readonly offset: number } = { limit: -1, offset: 0 },
) =>
  db.all(
    checksMatching(db, filter)
      .selectAll('checks')
      .select([
        'builds.serial',
        'builds.title',
        'models.code as model_code',
        'models.name as model_name',
        steelOf('name').as('steel_name'),
        heatNumberOf.as('heat_number'),
      ])
      .orderBy('checks.on_date', 'desc')
      .orderBy('checks.seq', 'desc')
      .limit(page.limit)
      .offset(page.offset),
  );

/** How many checks match, whatever the page. */
export const countChecks = (db: ReadDb, filter: CheckFilter): number =>
  db.one(checksMatching(db, filter).select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;

/** Readings of several checks, in order. */
export const readingRows = (db: ReadDb, checkIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('check_readings')
      .selectAll()
      .where('check_id', 'in', checkIds)
      .orderBy('check_id')
      .orderBy('position'),
  );

/** Files pinned to several checks. */
export const checkFiles = (db: ReadDb, checkIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('attachments')
      .selectAll()
      .where('owner_kind', '=', 'check')
      .where('owner_id', 'in', checkIds)
      .where('removed_at', 'is', null)
      .orderBy('added_at'),
  );

/** Writes a check with its readings. */
export function insertCheck(
  db: WriteDb,
  row: Insertable<ChecksTable>,
  readings: readonly Omit<CheckReadingsTable, 'check_id'>[],
): void {
  db.run(db.q.insertInto('checks').values(row));
  for (const reading of readings)
    db.run(db.q.insertInto('check_readings').values({ check_id: row.id, ...reading }));
}

/** Marks a check as counting no more; the only change a check allows. */
export const voidCheck = (db: WriteDb, id: string, reason: string): number =>
  db.run(db.q.updateTable('checks').set({ voided_reason: reason }).where('id', '=', id));

/** Reading knives. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds, builtOnce, contains } from './like.ts';
import { ownOfSale } from './selling.ts';

export interface BuildFilter {
  readonly text?: string;
  readonly states?: readonly string[];
  readonly modelId?: string | undefined;
  readonly sort?: 'newest' | 'serial' | 'cost' | 'minutes';
  readonly limit: number;
  readonly offset: number;
}

/** What a row of the list shows. */
const listColumns = [
  'builds.id',
  'builds.serial',
  'builds.title',
  'builds.model_id',
  'models.code as model_code',
  'models.name as model_name',
  'builds.state',
  'builds.method',
  'builds.batch',
  'builds.planned_on',
  'builds.started_on',
  'builds.finished_on',
  'builds.minutes',
  'builds.cost_micro',
] as const;

const buildColumns = [
  ...listColumns,
  'builds.number',
  'builds.ended_on',
  'builds.end_reason',
  'builds.note',
  'builds.flaw',
] as const;

const buildSource = (db: ReadDb) =>
  db.q.selectFrom('builds').innerJoin('models', 'models.id', 'builds.model_id');

function buildsMatching(db: ReadDb, filter: BuildFilter) {
  let query = buildSource(db);
  if (filter.states && filter.states.length > 0) query = query.where('builds.state', 'in', filter.states);
  if (filter.modelId !== undefined) query = query.where('builds.model_id', '=', filter.modelId);
  if (filter.text) {
    const { text } = filter;
    query = query.where((eb) =>
      eb.or([
        contains(eb.ref('builds.serial'), text),
        contains(eb.ref('builds.title'), text),
        contains(eb.ref('builds.batch'), text),
        contains(eb.ref('models.code'), text),
        contains(eb.ref('models.name'), text),
      ]),
    );
  }
  return query;
}

/** The statement behind a page of knives. */
export function buildPageStatement(db: ReadDb, filter: BuildFilter) {
  const page = buildsMatching(db, filter).select(listColumns).limit(filter.limit).offset(filter.offset);
  switch (filter.sort ?? 'newest') {
    case 'serial':
      return page.orderBy('builds.serial');
    case 'cost':
      return page.orderBy('builds.cost_micro', 'desc').orderBy('builds.number', 'desc');
    case 'minutes':
      return page.orderBy('builds.minutes', 'desc').orderBy('builds.number', 'desc');
    case 'newest':
      return page.orderBy('builds.number', 'desc');
  }
}

/** One page of knives and how many there are in all. */
export function buildPage(db: ReadDb, filter: BuildFilter) {
  const rows = db.all(buildPageStatement(db, filter));
  const whole = filter.offset === 0 && rows.length < filter.limit;
  return { rows, total: whole ? rows.length : buildCount(db, filter) };
}

/** How many knives match; models are looked at only when a text may stand in their names. */
function buildCount(db: ReadDb, filter: BuildFilter): number {
  if (filter.text)
    return db.one(buildsMatching(db, filter).select(({ fn }) => fn.countAll<number>().as('n')))?.n ?? 0;
  let query = db.q.selectFrom('builds').select(({ fn }) => fn.countAll<number>().as('n'));
  if (filter.states && filter.states.length > 0) query = query.where('state', 'in', filter.states);
  if (filter.modelId !== undefined) query = query.where('model_id', '=', filter.modelId);
  return db.one(query)?.n ?? 0;
}

/** One knife as the list shows it. */
export const buildRow = (db: ReadDb, id: string) =>
  db.one(buildSource(db).select(buildColumns).where('builds.id', '=', id));

/** Size, steel and finish of a knife: its own, else its model's. */
export const bladeOfBuild = (db: ReadDb, id: string) =>
  db.one(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .where('b.id', '=', id)
      .select(['m.blade_nm as model_nm', 'm.steel as model_steel', 'm.finish as model_finish'])
      .select([
        sql<number | null>`coalesce(b.blade_nm, m.blade_nm)`.as('bladeNm'),
        sql<string>`coalesce(b.steel, m.steel)`.as('steel'),
        sql<string>`coalesce(b.finish, m.finish)`.as('finish'),
      ]),
  );

export type BuildListRow = ReturnType<typeof buildPage>['rows'][number];

/** The knife that bears a serial. */
export const buildWithSerial = (db: ReadDb, serial: string) =>
  db.one(db.q.selectFrom('builds').select('id').where('serial', '=', serial));

const progressStatement = builtOnce((db) =>
  db.q
    .selectFrom('build_stages')
    .select(({ fn }) => [
      'build_id',
      'stage_code',
      fn.countAll<number>().as('stages_all'),
      fn.count<number>('done_on').as('stages_done'),
      sql<number | null>`min(CASE WHEN done_on IS NULL THEN position END)`.as('next_position'),
    ])
    .where((eb) => amongIds(eb.ref('build_id'), []))
    .groupBy('build_id'),
);

/**
 * How far each of these knives is along its stages, and the first one not done. SQLite takes `stage_code` from the row
 * that holds the least position; it means nothing where `next_position` is null, when all are done.
 */
export const stageProgress = (db: ReadDb, ids: readonly string[]) => db.all(progressStatement(db, ids));

const photosStatement = builtOnce((db) =>
  db.q
    .selectFrom('attachments')
    .select(({ fn }) => ['owner_id', 'id', fn.min('added_at').as('added_at')])
    .where('owner_kind', '=', 'build')
    .where((eb) => amongIds(eb.ref('owner_id'), []))
    .where('role', '=', 'photo')
    .where('removed_at', 'is', null)
    .groupBy('owner_id'),
);

/** The first photo of each of these knives. */
export const firstPhotos = (db: ReadDb, ids: readonly string[]) => db.all(photosStatement(db, ids));

/** Stages planned for a knife, in order. */
export const buildStageRows = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('build_stages')
      .innerJoin('stages', 'stages.code', 'build_stages.stage_code')
      .select([
        'stages.code',
        'stages.name',
        'stages.attended',
        'build_stages.position',
        'build_stages.usual_minutes',
        'build_stages.done_on',
      ])
      .where('build_id', '=', buildId)
      .orderBy('build_stages.position'),
  );

/** Minutes booked on a knife by stage; corrected and cancelled versions do not count. */
export const minutesByStage = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('session_shares')
      .innerJoin('sessions', 'sessions.id', 'session_shares.session_id')
      .innerJoin('stages', 'stages.code', 'sessions.stage_code')
      .select(({ fn }) => [
        'stages.code',
        'stages.name',
        'stages.attended',
        'stages.position',
        fn.sum<number>('session_shares.minutes').as('minutes'),
      ])
      .where('session_shares.build_id', '=', buildId)
      .where('sessions.current', '=', 1)
      .where('sessions.cancelled', '=', 0)
      .groupBy('stages.code')
      .orderBy('stages.position'),
  );

/** What usual parts a knife has taken and not given back, by label and item. */
export const takenParts = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots', 'lots.id', 'm.lot_id')
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .select(['m.part_label', 'lots.item_id', sql<number>`sum(coalesce(m.net_qty, -m.qty))`.as('qty')])
      .where('m.build_id', '=', buildId)
      .where('m.kind', '=', 'draw')
      .where('r.id', 'is', null)
      .groupBy(['m.part_label', 'lots.item_id']),
  );

/** Charges of a knife, oldest first, with what took them back. */
export const chargeRows = (db: ReadDb, buildId: string) =>
  db.all(chargeSource(db).where('c.build_id', '=', buildId).orderBy('c.seq'));

/** One charge, with what took it back. */
export const chargeRow = (db: ReadDb, id: string) => db.one(chargeSource(db).where('c.id', '=', id));

const chargeSource = (db: ReadDb) =>
  db.q
    .selectFrom('charges as c')
    .leftJoin('charges as r', 'r.reverses_id', 'c.id')
    .selectAll('c')
    .select('r.id as reversed_by_id');

export type ChargeRow = ReturnType<typeof chargeRows>[number];

/** Notes of a knife, newest first. */
export const noteRows = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('build_notes')
      .select(['id', 'at', 'text'])
      .where('build_id', '=', buildId)
      .orderBy('at', 'desc')
      .orderBy('id', 'desc'),
  );

/** The sale of a knife that still stands, with its invoice. */
export const saleOfBuild = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('sales')
      .innerJoin('buyers', 'buyers.id', 'sales.buyer_id')
      .leftJoin('invoices', (join) =>
        join.onRef('invoices.sale_id', '=', 'sales.id').on('invoices.kind', 'in', ownOfSale),
      )
      .select([
        'sales.id',
        'sales.on_date',
        'buyers.name as buyer_name',
        'sales.price_minor',
        'invoices.id as invoice_id',
        'invoices.number as invoice_number',
      ])
      .where('sales.build_id', '=', buildId)
      .where('sales.taken_back_on', 'is', null),
  );

/** Serial of the knife planned last, whose way of counting the next one follows. */
export const newestSerials = (db: ReadDb, limit: number) =>
  db.all(db.q.selectFrom('builds').select('serial').orderBy('number', 'desc').limit(limit));

/** The serial with the highest number among those that are the text and digits only, looked for in the index on serials. */
export function highestSerial(db: ReadDb, prefix: string): string | undefined {
  const rest = sql<string>`substr(serial, length(${prefix}) + 1)`;
  return db.one(
    db.q
      .selectFrom('builds')
      .select('serial')
      .where('serial', '>=', prefix)
      .where('serial', '<', `${prefix}\u{10FFFF}`)
      .where(sql<boolean>`${rest} NOT GLOB '*[^0-9]*' AND length(${rest}) BETWEEN 1 AND 15`)
      .orderBy(sql`CAST(${rest} AS INTEGER)`, 'desc')
      .orderBy(sql`length(${rest})`, 'desc')
      .limit(1),
  )?.serial;
}

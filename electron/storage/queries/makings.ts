/** Makings: what went into them, their steps, what came out and what was taken of that. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds, literalPattern } from './like.ts';

export interface MakingFilter {
  readonly text?: string;
  readonly states?: readonly string[];
}

/** Minutes of its sessions that count. */
const minutesSum = sql<number>`(select coalesce(sum(s.minutes), 0) from sessions s
  where s.making_id = m.id and s.current = 1 and s.cancelled = 0)`;

/** What stands of it in goods and in charges, millionths. */
const costSum = sql<number>`(select coalesce(-sum(v.value_micro), 0) from movements v
    where v.making_id = m.id and v.kind = 'intoMaking' and not exists (select 1 from movements r where r.reverses_id = v.id))
  + (select coalesce(sum(c.amount_micro), 0) from making_charges c where c.making_id = m.id)`;

const source = (db: ReadDb) =>
  db.q
    .selectFrom('makings as m')
    .selectAll('m')
    .select([minutesSum.as('minutes'), costSum.as('cost_micro')]);

/** The making number a typed tag means (`M-0003`, `m3`, `3`), or undefined. */
const numberOfTag = (text: string): number | undefined => {
  const digits = /^(?:m\s*-?\s*)?0*(\d{1,9})$/i.exec(text.trim())?.[1];
  return digits === undefined ? undefined : Number(digits);
};

function matching(db: ReadDb, { text = '', states = [] }: MakingFilter) {
  let found = source(db);
  if (states.length > 0) found = found.where('m.state', 'in', states);
  if (text === '') return found;
  const like = `%${literalPattern(text)}%`;
  return found.where(
    sql<boolean>`(m.title like ${like} escape '\\' or m.note like ${like} escape '\\' or m.number = ${numberOfTag(text) ?? -1})`,
  );
}

/** A page of makings: open ones first, then the newest. */
export const makingPage = (db: ReadDb, filter: MakingFilter & { limit: number; offset: number }) =>
  db.all(
    matching(db, filter)
      .orderBy(sql`m.state = 'open'`, 'desc')
      .orderBy('m.number', 'desc')
      .limit(filter.limit)
      .offset(filter.offset),
  );

/** How many makings match. */
export const makingCount = (db: ReadDb, filter: MakingFilter): number =>
  db.one(
    matching(db, filter)
      .clearSelect()
      .select(({ fn }) => fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** One making with its sums. */
export const makingRow = (db: ReadDb, id: string) => db.one(source(db).where('m.id', '=', id));

export type MakingRecord = NonNullable<ReturnType<typeof makingRow>>;

/** The number of the next making. */
export const nextMakingNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('makings').select(sql<number | null>`max(number)`.as('top')))?.top ?? 0) + 1;

/** Steps in the order they were done. */
export const makingSteps = (db: ReadDb, makingId: string) =>
  db.all(db.q.selectFrom('making_steps').selectAll().where('making_id', '=', makingId).orderBy('position'));

export type StepRecord = ReturnType<typeof makingSteps>[number];

/** Goods that went in and stand, in the order they went. Quantity and value are those taken, above zero. */
export const makingInputs = (db: ReadDb, makingId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select([
        'm.id',
        'm.on_date',
        'm.lot_id',
        'm.part_label',
        'm.reason',
        'm.burn_id',
        'l.number as lot_number',
      ])
      .select(['i.id as item_id', 'i.name as item_name', 'i.kind', 'i.form', 'i.unit', 'i.piece_word'])
      .select(['l.qty_received', 'l.value_received_micro', 'l.making_id as from_making_id'])
      .select(['l.species', 'l.listing', 'l.origin', 'l.paper_number'])
      .select([sql<number>`-m.qty`.as('qty'), sql<number>`-m.value_micro`.as('value_micro')])
      .where('m.making_id', '=', makingId)
      .where('m.kind', '=', 'intoMaking')
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .orderBy('m.on_date')
      .orderBy('m.seq'),
  );

export type InputRecord = ReturnType<typeof makingInputs>[number];

/** Charges of a making with what took each back, in the order they were entered. */
export const makingChargeRows = (db: ReadDb, makingId: string) =>
  db.all(
    db.q
      .selectFrom('making_charges as c')
      .leftJoin('making_charges as r', 'r.reverses_id', 'c.id')
      .selectAll('c')
      .select('r.id as reversed_by_id')
      .where('c.making_id', '=', makingId)
      .orderBy('c.seq'),
  );

export type MakingChargeRecord = ReturnType<typeof makingChargeRows>[number];

/** One charge with what took it back. */
export const makingChargeRow = (db: ReadDb, id: string) =>
  db.one(
    db.q
      .selectFrom('making_charges as c')
      .leftJoin('making_charges as r', 'r.reverses_id', 'c.id')
      .selectAll('c')
      .select('r.id as reversed_by_id')
      .where('c.id', '=', id),
  );

/** Lots that came out, in the order they were written down. */
export const makingOutputs = (db: ReadDb, makingId: string) =>
  db.all(
    db.q
      .selectFrom('making_outputs as o')
      .innerJoin('lots as l', 'l.id', 'o.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select(['o.lot_id', 'o.share', 'o.position', 'l.number', 'l.qty_received', 'l.value_received_micro'])
      .select(['i.name as item_name', 'i.form', 'i.unit', 'i.piece_word', 'i.id as item_id'])
      .where('o.making_id', '=', makingId)
      .orderBy('o.position'),
  );

export type OutputRecord = ReturnType<typeof makingOutputs>[number];

/** What came out of several makings at once, for a list. */
export const outputsOfMakings = (db: ReadDb, makingIds: readonly string[]) =>
  makingIds.length === 0
    ? []
    : db.all(
        db.q
          .selectFrom('making_outputs as o')
          .innerJoin('lots as l', 'l.id', 'o.lot_id')
          .innerJoin('items as i', 'i.id', 'l.item_id')
          .select([
            'o.making_id',
            'i.id as item_id',
            'i.name as item_name',
            'i.form',
            'i.unit',
            'i.piece_word',
          ])
          .select(({ fn }) => fn.sum<number>('l.qty_received').as('qty'))
          .where('o.making_id', 'in', makingIds)
          .groupBy(['o.making_id', 'i.id'])
          .orderBy(({ fn }) => fn.min('o.position')),
      );

/**
 * How much left a lot for each unit of what became of it: a blank leaves its kerf behind, and pieces sawn from a sheet
 * are counted by the pair. What leaves is written right before what it becomes.
 */
const leftForOne = sql<number>`coalesce((select -1.0 * o.qty from movements i join movements o
    on o.lot_id = l.parent_id and o.kind = 'split' and o.qty < 0 and o.seq < i.seq
  where i.lot_id = l.id and i.kind = 'split' and i.qty > 0 order by o.seq desc limit 1) / l.qty_received, 1.0)`;

/**
 * Takings that stand of what a making brought out, by knives and by other makings, in the order they were taken.
 * What was cut off such a lot and lies in one of its own counts as the lot it came from (`root_id`), in its unit.
 */
export const takingsOf = (db: ReadDb, makingId: string) =>
  db.all(
    db.q
      .withRecursive('tree', (q) =>
        q
          .selectFrom('making_outputs')
          .select(['lot_id', 'lot_id as root_id', sql<number>`1.0`.as('each')])
          .where('making_id', '=', makingId)
          .unionAll(
            q
              .selectFrom('lots as l')
              .innerJoin('tree as t', 't.lot_id', 'l.parent_id')
              .select(['l.id as lot_id', 't.root_id', sql<number>`t.each * ${leftForOne}`.as('each')]),
          ),
      )
      .selectFrom('tree')
      .innerJoin('movements as m', 'm.lot_id', 'tree.lot_id')
      .leftJoin('builds as b', 'b.id', 'm.build_id')
      .leftJoin('makings as n', 'n.id', 'm.making_id')
      .select([
        'tree.root_id',
        'm.id',
        'm.kind',
        'm.build_id',
        'b.serial',
        'm.making_id',
        'n.number as making_number',
      ])
      .select(sql<number>`cast(round(-m.qty * tree.each) as integer)`.as('qty'))
      .select(sql<number>`-m.value_micro`.as('value_micro'))
      .where('m.kind', 'in', ['draw', 'intoMaking'])
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .orderBy('m.seq'),
  );

export type TakingRecord = ReturnType<typeof takingsOf>[number];

/** Sessions on a making that count, oldest first. */
export const makingSessions = (db: ReadDb, makingId: string) =>
  db.all(
    db.q
      .selectFrom('sessions as s')
      .leftJoin('stages as g', 'g.code', 's.stage_code')
      .select(['s.root_id', 's.on_date', 's.minutes', 's.note', 's.person_id', 's.source'])
      .select('g.name as stage_name')
      .where('s.making_id', '=', makingId)
      .where('s.current', '=', 1)
      .where('s.cancelled', '=', 0)
      .orderBy('s.on_date')
      .orderBy(sql`coalesce(s.started_at, s.recorded_at)`),
  );

export type MakingSession = ReturnType<typeof makingSessions>[number];

/** Movements that brought a making's lots in and still stand. */
export const madeMovements = (db: ReadDb, makingId: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .select(['m.id', 'm.lot_id', 'l.number as lot_number'])
      .where('m.making_id', '=', makingId)
      .where('m.kind', '=', 'made')
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .orderBy('m.seq'),
  );

/** Makings whose goods stand in a knife, directly or through a piece cut off such a lot. */
export const makingsInKnife = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .withRecursive('up', (q) =>
        q
          .selectFrom('movements as m')
          .innerJoin('lots as l', 'l.id', 'm.lot_id')
          .select(['l.id as lot_id', 'l.parent_id'])
          .where('m.build_id', '=', buildId)
          .where('m.kind', '=', 'draw')
          .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
          .union(
            q
              .selectFrom('lots as p')
              .innerJoin('up', 'up.parent_id', 'p.id')
              .select(['p.id as lot_id', 'p.parent_id']),
          ),
      )
      .selectFrom('up')
      .innerJoin('making_outputs as o', 'o.lot_id', 'up.lot_id')
      .innerJoin('makings as m', 'm.id', 'o.making_id')
      .select(['m.id', 'm.number', 'm.title', 'm.labour_over', 'm.ended_on'])
      .distinct()
      .orderBy('m.number'),
  );

/** The making a lot came out of, directly or through the lot it was cut off from. */
export const makingOfLot = (db: ReadDb, lotId: string): string | undefined =>
  db.one(
    db.q
      .withRecursive('up', (q) =>
        q
          .selectFrom('lots as l')
          .select(['l.id as lot_id', 'l.parent_id'])
          .where('l.id', '=', lotId)
          .unionAll(
            q
              .selectFrom('lots as p')
              .innerJoin('up', 'up.parent_id', 'p.id')
              .select(['p.id as lot_id', 'p.parent_id']),
          ),
      )
      .selectFrom('up')
      .innerJoin('making_outputs as o', 'o.lot_id', 'up.lot_id')
      .select('o.making_id as id')
      .limit(1),
  )?.id;

/** Ended makings with what they cost, by kind. */
export const endedMakings = (db: ReadDb) =>
  db.all(source(db).where('m.state', 'in', ['done', 'scrapped']).orderBy('m.kind').orderBy('m.number'));

/** What stands of several makings by the line of their sheet: one for each item, one for each label of a charge. */
export const lineSums = (db: ReadDb, makingIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .select(['m.making_id', 'l.item_id as line'])
      .select(sql<number>`-sum(m.value_micro)`.as('value_micro'))
      .where(amongIds(sql.ref('m.making_id'), makingIds))
      .where('m.kind', '=', 'intoMaking')
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .groupBy(['m.making_id', 'l.item_id'])
      .$narrowType<{ making_id: string }>()
      .unionAll(
        db.q
          .selectFrom('making_charges as c')
          .select(['c.making_id', 'c.label as line'])
          .select(({ fn }) => fn.sum<number>('c.amount_micro').as('value_micro'))
          .where(amongIds(sql.ref('c.making_id'), makingIds))
          .where('c.reverses_id', 'is', null)
          .where(sql<boolean>`not exists (select 1 from making_charges r where r.reverses_id = c.id)`)
          .groupBy(['c.making_id', 'c.label']),
      ),
  );

/** Something that stands of a lot beside its first movement, or a piece cut off it. */
export const lotTaken = (db: ReadDb, lotId: string) =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .select(['m.kind', 'm.on_date'])
      .where('m.lot_id', '=', lotId)
      .where('m.kind', 'not in', ['made', 'reversal', 'evenOut'])
      .where('r.id', 'is', null)
      .limit(1),
  );

/** The last day on which something was done to a making: goods, charges, steps or hours; null for nothing yet. */
export const lastDayOf = (db: ReadDb, makingId: string): string | null =>
  [
    ...makingInputs(db, makingId),
    ...makingChargeRows(db, makingId).filter(
      (one) => one.reverses_id === null && one.reversed_by_id === null,
    ),
    ...makingSteps(db, makingId),
    ...makingSessions(db, makingId),
  ].reduce<string | null>((so, { on_date: on }) => (so === null || on > so ? on : so), null);

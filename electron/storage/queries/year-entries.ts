/** Single entries behind the figures of a year that are sums over the books. */
import { type RawBuilder, sql, type SqlBool } from 'kysely';
import type { ReadDb } from '../db.ts';
import { kindOf } from './year-flows.ts';
import type { Days } from './year-knives.ts';

/** One entry: micro for goods and charges, minutes for hours. */
export interface EntryRow {
  readonly id: string;
  readonly on_date: string;
  readonly what: string;
  readonly who: string;
  readonly amount: number;
  /** Knife, making or lot it belongs to. */
  readonly build_id: string | null;
  readonly making_id: string | null;
  readonly lot_id: string | null;
}

const within = (column: string, { from, to }: Days): RawBuilder<SqlBool> =>
  sql<SqlBool>`${sql.ref(column)} BETWEEN ${from} AND ${to}`;

/** Charges on knives; `flat`: nothing of the books stands behind them. */
export const chargeEntries = (
  db: ReadDb,
  span: Days,
  source: 'flat' | 'burn' | 'bath' | 'count',
  uses: readonly string[],
): EntryRow[] => {
  const flat = sql<SqlBool>`c.burn_id IS NULL AND c.bath_event_id IS NULL AND c.item_count_id IS NULL`;
  const wanted = {
    flat,
    burn: sql<SqlBool>`c.burn_id IS NOT NULL`,
    bath: sql<SqlBool>`c.burn_id IS NULL AND c.bath_event_id IS NOT NULL`,
    count: sql<SqlBool>`c.burn_id IS NULL AND c.bath_event_id IS NULL AND c.item_count_id IS NOT NULL`,
  }[source];
  return db.all(
    db.q
      .selectFrom('charges as c')
      .innerJoin('builds as b', 'b.id', 'c.build_id')
      .where(within('c.on_date', span))
      .where(wanted)
      .where('c.use_as', 'in', uses)
      .select([
        'c.id',
        'c.on_date',
        'c.label as what',
        'b.serial as who',
        'c.amount_micro as amount',
        'c.build_id',
      ])
      .select([sql<string | null>`NULL`.as('making_id'), sql<string | null>`NULL`.as('lot_id')])
      .orderBy('c.on_date')
      .orderBy('c.seq'),
  );
};

/** Charges on makings. */
export const makingChargeEntries = (db: ReadDb, span: Days): EntryRow[] =>
  db.all(
    db.q
      .selectFrom('making_charges as c')
      .innerJoin('makings as k', 'k.id', 'c.making_id')
      .where(within('c.on_date', span))
      .select([
        'c.id',
        'c.on_date',
        'c.label as what',
        'k.title as who',
        'c.amount_micro as amount',
        'c.making_id',
      ])
      .select([sql<string | null>`NULL`.as('build_id'), sql<string | null>`NULL`.as('lot_id')])
      .orderBy('c.on_date')
      .orderBy('c.seq'),
  );

/** Movements with no knife, making, opening or bath: counts, or everything else but what was bought or sent back. */
export const looseMovements = (db: ReadDb, span: Days, counts: boolean): EntryRow[] =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .where(within('m.on_date', span))
      .where('m.build_id', 'is', null)
      .where('m.making_id', 'is', null)
      .where('m.opening_id', 'is', null)
      .where('m.bath_event_id', 'is', null)
      .where('m.value_micro', '<>', 0)
      .where('i.incidental', '=', 0)
      .where(
        counts
          ? sql<SqlBool>`${kindOf} = 'count'`
          : sql<SqlBool>`${kindOf} NOT IN ('count', 'receipt', 'return')`,
      )
      .select([
        'm.id',
        'm.on_date',
        'i.name as what',
        'm.reason as who',
        'm.value_micro as amount',
        'm.lot_id',
      ])
      .select([sql<string | null>`NULL`.as('build_id'), sql<string | null>`NULL`.as('making_id')])
      .orderBy('m.on_date')
      .orderBy('m.seq'),
  );

const movements = (db: ReadDb, span: Days) =>
  db.q
    .selectFrom('movements as m')
    .innerJoin('lots as l', 'l.id', 'm.lot_id')
    .innerJoin('items as i', 'i.id', 'l.item_id')
    .where(within('m.on_date', span))
    .where('m.value_micro', '<>', 0)
    .select(['m.id', 'm.on_date', 'i.name as what', 'm.reason as who', 'm.lot_id'])
    .select(sql<string | null>`NULL`.as('making_id'))
    .orderBy('m.on_date')
    .orderBy('m.seq');

/** Supplies without stock that knives took all the same, above zero. */
export const looseForKnives = (db: ReadDb, span: Days): EntryRow[] =>
  db.all(
    movements(db, span)
      .where('m.build_id', 'is not', null)
      .where('i.incidental', '=', 1)
      .select(['m.build_id', sql<number>`-m.value_micro`.as('amount')]),
  );

/** Goods of stock taken into use, or poured into a bath, and what came back; out of stock is below zero. */
export const movedInto = (db: ReadDb, span: Days, what: 'opening' | 'bath'): EntryRow[] => {
  const plain = movements(db, span)
    .where('m.build_id', 'is', null)
    .where('m.making_id', 'is', null)
    .where('i.incidental', '=', 0)
    .where('m.opening_id', what === 'opening' ? 'is not' : 'is', null);
  const wanted = what === 'bath' ? plain.where('m.bath_event_id', 'is not', null) : plain;
  return db.all(wanted.select(['m.value_micro as amount', sql<string | null>`NULL`.as('build_id')]));
};

/** Goods bought, sent back or taken back in a year. @param loose only supplies that are an expense when bought; else all */
export const boughtEntries = (db: ReadDb, span: Days, loose: boolean): EntryRow[] => {
  const all = movements(db, span)
    .where('m.build_id', 'is', null)
    .where('m.making_id', 'is', null)
    .where('m.opening_id', 'is', null)
    .where('m.bath_event_id', 'is', null)
    .where(sql<SqlBool>`${kindOf} IN ('receipt', 'return')`);
  const wanted = loose ? all.where('i.incidental', '=', 1) : all;
  return db.all(wanted.select(['m.value_micro as amount', sql<string | null>`NULL`.as('build_id')]));
};

/** Lots of stock with what each was worth at the end of a day; supplies that are an expense when bought left out. */
export const lotsHeld = (db: ReadDb, on: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .where('m.on_date', '<=', on)
      .where('i.incidental', '=', 0)
      .select(['l.id', 'l.number', 'l.place', 'l.received_on', 'i.name'])
      .select(({ fn }) => fn.sum<number>('m.value_micro').as('value_micro'))
      .groupBy('l.id')
      .having(({ fn }) => fn.sum<number>('m.value_micro'), '<>', 0)
      .orderBy('i.name')
      .orderBy('l.number'),
  );

/** Which hours are wanted. */
interface HourFilter {
  readonly stage?: string;
  readonly work?: string;
  readonly making?: boolean;
  /** Everything at the bench on knives, or all other work. */
  readonly all?: 'bench' | 'other';
}

/** Sessions of a year. */
export const hourEntries = (db: ReadDb, span: Days, filter: HourFilter): EntryRow[] => {
  let found = db.q
    .selectFrom('sessions as s')
    .leftJoin('stages as g', 'g.code', 's.stage_code')
    .leftJoin('makings as k', 'k.id', 's.making_id')
    .where('s.current', '=', 1)
    .where('s.cancelled', '=', 0)
    .where(within('s.on_date', span))
    .where('s.making_id', filter.making === true ? 'is not' : 'is', null);
  if (filter.stage !== undefined) found = found.where('s.stage_code', '=', filter.stage);
  if (filter.work !== undefined) found = found.where('s.work_kind', '=', filter.work);
  if (filter.all === 'bench') found = found.where('s.work_kind', 'is', null);
  if (filter.all === 'other') found = found.where('s.work_kind', 'is not', null);
  return db.all(
    found
      .select(['s.id', 's.on_date', 's.minutes as amount', 's.making_id'])
      .select([
        sql<string>`coalesce(g.name, k.title, s.work_kind, '')`.as('what'),
        sql<string>`coalesce((SELECT group_concat(b.serial, ', ') FROM session_shares h JOIN builds b ON b.id = h.build_id
          WHERE h.session_id = s.id), s.note)`.as('who'),
        sql<string | null>`(SELECT h.build_id FROM session_shares h WHERE h.session_id = s.id LIMIT 1)`.as(
          'build_id',
        ),
        sql<string | null>`NULL`.as('lot_id'),
      ])
      .orderBy('s.on_date')
      .orderBy('s.id'),
  );
};

/** Knives begun in a year with all their minutes. */
export const knivesBegun = (db: ReadDb, span: Days): EntryRow[] =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .where(within('b.started_on', span))
      .where('b.minutes', '<>', 0)
      .select(['b.id', 'b.serial as what', 'm.name as who', 'b.minutes as amount', 'b.id as build_id'])
      .select([sql<string>`b.started_on`.as('on_date')])
      .select([sql<string | null>`NULL`.as('making_id'), sql<string | null>`NULL`.as('lot_id')])
      .orderBy('b.started_on')
      .orderBy('b.number'),
  );

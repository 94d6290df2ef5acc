/** Reading baths, ovens, tariffs and firings. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds } from './like.ts';

const bathSource = (db: ReadDb) =>
  db.q
    .selectFrom('baths as b')
    .innerJoin('items as i', 'i.id', 'b.item_id')
    .selectAll('b')
    .select('i.name as item_name');

/** Baths by name. */
export const bathRows = (db: ReadDb, includeArchived: boolean) => {
  const all = bathSource(db).orderBy('b.archived').orderBy('b.name');
  return db.all(includeArchived ? all : all.where('b.archived', '=', 0));
};
export type BathRow = ReturnType<typeof bathRows>[number];

/** One bath. */
export const bathRow = (db: ReadDb, id: string): BathRow | undefined =>
  db.one(bathSource(db).where('b.id', '=', id));

/** Another bath of that name. */
export const bathNamed = (db: ReadDb, name: string): string | undefined =>
  db.one(db.q.selectFrom('baths').select('id').where('name', '=', name))?.id;

const eventSource = (db: ReadDb) =>
  db.q
    .selectFrom('bath_events as e')
    .leftJoin('bath_events as r', 'r.reverses_id', 'e.id')
    .selectAll('e')
    .select('r.id as reversed_by_id');

/** The ledger of some baths in the order it was booked. */
export const bathEventRows = (db: ReadDb, bathIds: readonly string[]) =>
  db.all(
    eventSource(db)
      .where(amongIds(sql.ref('e.bath_id'), bathIds))
      .orderBy('e.seq'),
  );
export type BathEventRow = ReturnType<typeof bathEventRows>[number];

/** One event of a bath. */
export const bathEventRow = (db: ReadDb, id: string): BathEventRow | undefined =>
  db.one(eventSource(db).where('e.id', '=', id));

/** The knives that paid for some quenches. */
export const buildsOfBathEvents = (db: ReadDb, eventIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('charges as c')
      .innerJoin('builds as b', 'b.id', 'c.build_id')
      .select(['c.bath_event_id', 'b.id', 'b.serial'])
      .where(amongIds(sql.ref('c.bath_event_id'), eventIds))
      .where('c.reverses_id', 'is', null)
      .orderBy('b.number'),
  );

/** Quenches booked into a bath from one heat that still stand. */
export const quenchesOfHeat = (db: ReadDb, heatId: string) =>
  db.all(
    eventSource(db).where('e.heat_id', '=', heatId).where('e.kind', '=', 'quench').where('r.id', 'is', null),
  );

/** Movements and charges that stand for one event of a bath or one firing, and are not taken back. */
export const movementsBehind = (db: ReadDb, column: 'm.burn_id' | 'm.bath_event_id', id: string) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .select('m.id')
      .where(column, '=', id)
      .where('m.kind', '<>', 'reversal')
      .where(sql<boolean>`not exists (select 1 from movements r where r.reverses_id = m.id)`)
      .orderBy('m.seq', 'desc'),
  );

/** The item that was poured into a bath by one of its events. */
export const itemPoured = (db: ReadDb, eventId: string) =>
  db.one(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select(['i.id', 'i.name'])
      .where('m.bath_event_id', '=', eventId)
      .where('m.kind', '=', 'intoBath')
      .limit(1),
  );

/** Charges on knives that stand for one firing or one event of a bath, and are not taken back. */
export const chargesBehind = (db: ReadDb, column: 'c.burn_id' | 'c.bath_event_id', id: string) =>
  db.all(
    db.q
      .selectFrom('charges as c')
      .selectAll('c')
      .where(column, '=', id)
      .where('c.reverses_id', 'is', null)
      .where(sql<boolean>`not exists (select 1 from charges r where r.reverses_id = c.id)`)
      .orderBy('c.seq'),
  );

/** Charges on a making that stand for one firing, and are not taken back. */
export const makingChargesBehind = (db: ReadDb, burnId: string) =>
  db.all(
    db.q
      .selectFrom('making_charges as c')
      .selectAll('c')
      .where('c.burn_id', '=', burnId)
      .where('c.reverses_id', 'is', null)
      .where(sql<boolean>`not exists (select 1 from making_charges r where r.reverses_id = c.id)`),
  );

/** A making as far as a firing needs it. */
export const makingForFire = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('makings').select(['id', 'number', 'title', 'state']).where('id', '=', id));

/** Ovens and forges by name. */
export const fireRows = (db: ReadDb, includeArchived: boolean) => {
  const all = db.q.selectFrom('fires').selectAll().orderBy('archived').orderBy('name');
  return db.all(includeArchived ? all : all.where('archived', '=', 0));
};
export type FireRow = ReturnType<typeof fireRows>[number];

/** One oven or forge. */
export const fireRow = (db: ReadDb, id: string): FireRow | undefined =>
  db.one(db.q.selectFrom('fires').selectAll().where('id', '=', id));

/** Another oven or forge of that name. */
export const fireNamed = (db: ReadDb, name: string): string | undefined =>
  db.one(db.q.selectFrom('fires').select('id').where('name', '=', name))?.id;

/** Prices of current, newest first. */
export const tariffRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('tariffs').selectAll().orderBy('from_date', 'desc'));

/** The price of current in force on a day. */
export const tariffOn = (db: ReadDb, on: string) =>
  db.one(
    db.q.selectFrom('tariffs').selectAll().where('from_date', '<=', on).orderBy('from_date', 'desc').limit(1),
  );

export interface BurnFilter {
  readonly buildId?: string | undefined;
  readonly makingId?: string | undefined;
}

const burnSource = (db: ReadDb) =>
  db.q
    .selectFrom('burns as f')
    .leftJoin('makings as m', 'm.id', 'f.making_id')
    .leftJoin('items as i', 'i.id', 'f.item_id')
    .selectAll('f')
    .select(['m.number as making_number', 'i.form', 'i.unit', 'i.piece_word']);

function burnsMatching(db: ReadDb, { buildId, makingId }: BurnFilter) {
  let found = burnSource(db);
  if (makingId !== undefined) found = found.where('f.making_id', '=', makingId);
  if (buildId !== undefined) {
    found = found.where(
      sql<boolean>`exists (select 1 from burn_builds x where x.burn_id = f.id and x.build_id = ${buildId})`,
    );
  }
  return found;
}

/** Firings, the newest first. */
export const burnRows = (db: ReadDb, filter: BurnFilter & { limit: number; offset: number }) =>
  db.all(
    burnsMatching(db, filter)
      .orderBy('f.on_date', 'desc')
      .orderBy('f.id', 'desc')
      .limit(filter.limit)
      .offset(filter.offset),
  );
export type BurnRow = ReturnType<typeof burnRows>[number];

/** How many firings match. */
export const burnCount = (db: ReadDb, filter: BurnFilter): number =>
  db.one(
    burnsMatching(db, filter)
      .clearSelect()
      .select((e) => e.fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** One firing. */
export const burnRow = (db: ReadDb, id: string): BurnRow | undefined =>
  db.one(burnSource(db).where('f.id', '=', id));

/** What each knife paid for some firings, taken back or not. */
export const buildsOfBurns = (db: ReadDb, burnIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('burn_builds as x')
      .innerJoin('builds as b', 'b.id', 'x.build_id')
      .select(['x.burn_id', 'b.id', 'b.serial'])
      .select(
        sql<number>`(select coalesce(-sum(v.value_micro), 0) from movements v
            where v.burn_id = x.burn_id and v.build_id = x.build_id and v.kind = 'draw')
          + (select coalesce(sum(c.amount_micro), 0) from charges c
            where c.burn_id = x.burn_id and c.build_id = x.build_id and c.reverses_id is null)`.as(
          'amount_micro',
        ),
      )
      .where(amongIds(sql.ref('x.burn_id'), burnIds))
      .orderBy('b.number'),
  );

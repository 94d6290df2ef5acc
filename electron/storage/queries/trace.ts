/** Where stock went and where it came from: the links between purchases, lots, makings and knives. */
import type { SelectQueryBuilder } from 'kysely';
import type { ReadDb } from '../db.ts';
import type { Tables } from '../schema.ts';

type Standing = Tables & { m: Tables['movements']; r: { id: string | null; reverses_id: string | null } };

/** Movements of some kind that were not taken back. */
const standing = (db: ReadDb, kind: 'draw' | 'intoMaking') =>
  db.q
    .selectFrom('movements as m')
    .leftJoin('movements as r', 'r.reverses_id', 'm.id')
    .where('r.id', 'is', null)
    .where('m.kind', '=', kind) as unknown as SelectQueryBuilder<Standing, 'm' | 'r', object>;

/** Knives something of a lot is in, with how much and what it was worth; the earliest first. */
export const knivesFromLot = (db: ReadDb, lotId: string) =>
  db.all(
    standing(db, 'draw')
      .innerJoin('builds', 'builds.id', 'm.build_id')
      .select(({ fn }) => [
        'builds.id',
        'builds.serial',
        'builds.title',
        fn.min('m.on_date').as('on_date'),
        fn.sum<number>('m.qty').as('qty'),
        fn.sum<number>('m.value_micro').as('value_micro'),
      ])
      .where('m.lot_id', '=', lotId)
      .groupBy('builds.id')
      .orderBy('builds.number'),
  );

/** Makings something of a lot went into. */
export const makingsFromLot = (db: ReadDb, lotId: string) =>
  db.all(
    standing(db, 'intoMaking')
      .innerJoin('makings', 'makings.id', 'm.making_id')
      .select(({ fn }) => [
        'makings.id',
        'makings.number',
        'makings.title',
        fn.min('m.on_date').as('on_date'),
        fn.sum<number>('m.qty').as('qty'),
        fn.sum<number>('m.value_micro').as('value_micro'),
      ])
      .where('m.lot_id', '=', lotId)
      .groupBy('makings.id')
      .orderBy('makings.number'),
  );

/** Ids of the lots that went into a making. */
export const lotsIntoMaking = (db: ReadDb, makingId: string) =>
  db.all(
    standing(db, 'intoMaking')
      .innerJoin('lots', 'lots.id', 'm.lot_id')
      .select(({ fn }) => [
        'lots.id',
        fn.sum<number>('m.qty').as('qty'),
        fn.sum<number>('m.value_micro').as('value_micro'),
      ])
      .where('m.making_id', '=', makingId)
      .groupBy('lots.id')
      .orderBy('lots.number'),
  );

/** Ids of the lots a knife is made of. */
export const lotsInKnife = (db: ReadDb, buildId: string) =>
  db.all(
    standing(db, 'draw')
      .innerJoin('lots', 'lots.id', 'm.lot_id')
      .select(({ fn }) => [
        'lots.id',
        fn.sum<number>('m.qty').as('qty'),
        fn.sum<number>('m.value_micro').as('value_micro'),
      ])
      .where('m.build_id', '=', buildId)
      .groupBy('lots.id')
      .orderBy('lots.number'),
  );

/** The making a lot came out of. */
export const makingHead = (db: ReadDb, id: string) =>
  db.one(
    db.q
      .selectFrom('makings')
      .select(['id', 'number', 'title', 'started_on', 'ended_on'])
      .where('id', '=', id),
  );

/** Ids of the lots a making gave. */
export const lotsOfMaking = (db: ReadDb, makingId: string): string[] =>
  db
    .all(db.q.selectFrom('lots').select('id').where('making_id', '=', makingId).orderBy('number'))
    .map(({ id }) => id);

/** Ids of the offcuts that were cut off a lot and not put back. */
export const offcutsOf = (db: ReadDb, lotId: string): string[] =>
  db
    .all(
      db.q
        .selectFrom('lots')
        .innerJoin('movements as m', (join) =>
          join.onRef('m.lot_id', '=', 'lots.id').on('m.kind', '=', 'split'),
        )
        .leftJoin('movements as r', 'r.reverses_id', 'm.id')
        .select('lots.id')
        .distinct()
        .where('lots.parent_id', '=', lotId)
        .where('m.qty', '>', 0)
        .where('r.id', 'is', null)
        .orderBy('lots.number'),
    )
    .map(({ id }) => id);

/** The purchase a lot came with. */
export const purchaseHeadOfLine = (db: ReadDb, lineId: string) =>
  db.one(
    db.q
      .selectFrom('purchase_lines')
      .innerJoin('purchases', 'purchases.id', 'purchase_lines.purchase_id')
      .innerJoin('suppliers', 'suppliers.id', 'purchases.supplier_id')
      .select(['purchases.id', 'purchases.on_date', 'purchases.reference', 'suppliers.name as supplier_name'])
      .where('purchase_lines.id', '=', lineId),
  );

/** Serial and name of a knife. */
export const knifeHead = (db: ReadDb, id: string) =>
  db.one(
    db.q
      .selectFrom('builds')
      .select(['id', 'serial', 'title', 'planned_on', 'started_on', 'cost_micro'])
      .where('id', '=', id),
  );

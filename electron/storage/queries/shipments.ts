/** Reading and writing parcels. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { ShipmentsTable } from '../schema-selling.ts';
import { contains } from './like.ts';

export interface ShipmentFilter {
  readonly id?: string;
  readonly text?: string;
  readonly saleId?: string | undefined;
  readonly buildId?: string | undefined;
}

function matching(db: ReadDb, filter: ShipmentFilter) {
  let found = db.q
    .selectFrom('shipments as t')
    .innerJoin('sales as s', 's.id', 't.sale_id')
    .innerJoin('builds as b', 'b.id', 's.build_id')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .innerJoin('buyers as p', 'p.id', 's.buyer_id');
  if (filter.id !== undefined) found = found.where('t.id', '=', filter.id);
  if (filter.saleId !== undefined) found = found.where('t.sale_id', '=', filter.saleId);
  if (filter.buildId !== undefined) found = found.where('s.build_id', '=', filter.buildId);
  if (filter.text !== undefined && filter.text !== '') {
    const words = sql`b.serial || ' ' || b.title || ' ' || m.name || ' ' || p.name || ' ' || t.address || ' ' ||
      t.carrier || ' ' || t.tracking`;
    found = found.where(sql<boolean>`${contains(words, filter.text)}`);
  }
  return found;
}

/** Parcels, the latest first, with the knife and the person. */
export const shipmentRows = (
  db: ReadDb,
  filter: ShipmentFilter,
  page: { readonly limit: number; readonly offset: number } = { limit: -1, offset: 0 },
) =>
  db.all(
    matching(db, filter)
      .selectAll('t')
      .select([
        's.build_id',
        's.buyer_id',
        's.abroad',
        'b.serial',
        'b.title',
        'm.name as model_name',
        'p.name as buyer_name',
      ])
      .orderBy('t.on_date', 'desc')
      .orderBy('t.id', 'desc')
      .limit(page.limit)
      .offset(page.offset),
  );
export type ShipmentRecord = ReturnType<typeof shipmentRows>[number];

/** How many parcels match. */
export const countShipments = (db: ReadDb, filter: ShipmentFilter): number =>
  db.one(matching(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** One parcel. */
export const shipmentRecord = (db: ReadDb, id: string): ShipmentRecord | undefined =>
  shipmentRows(db, { id })[0];

/** The latest standing parcel of a knife of this model: its weight over all and its contents say what wrapping weighs. */
export const lastParcelOfModel = (db: ReadDb, modelId: string) =>
  db.one(
    matching(db, {})
      .select(['t.weight_ng', 't.contents'])
      .where('b.model_id', '=', modelId)
      .where('t.cancelled_on', 'is', null)
      .where('t.weight_ng', 'is not', null)
      .orderBy('t.on_date', 'desc')
      .orderBy('t.id', 'desc')
      .limit(1),
  );

/** The latest parcel that left the country with a customs line, to write the next one alike. */
export const lastContents = (db: ReadDb): string | undefined =>
  db.one(
    db.q
      .selectFrom('shipments')
      .select('contents')
      .where('cancelled_on', 'is', null)
      .where(sql<boolean>`contents like '%"tariff":"_%'`)
      .orderBy('on_date', 'desc')
      .orderBy('id', 'desc')
      .limit(1),
  )?.contents;

/** Carriers of parcels, the latest first. */
export const carriersUsed = (db: ReadDb): string[] =>
  db
    .all(
      db.q
        .selectFrom('shipments')
        .select('carrier')
        .where('carrier', '<>', '')
        .groupBy('carrier')
        .orderBy((e) => e.fn.max('on_date'), 'desc')
        .limit(8),
    )
    .map((row) => row.carrier);

/** The weight of a knife as found at its gate last, voided checks left out. */
export const weighedAt = (db: ReadDb, buildId: string): number | undefined =>
  db.one(
    db.q
      .selectFrom('checks as c')
      .innerJoin('check_readings as v', 'v.check_id', 'c.id')
      .select('v.value')
      .where('c.build_id', '=', buildId)
      .where('c.measure', '=', 'weight')
      .where('c.voided_reason', 'is', null)
      .orderBy('c.seq', 'desc')
      .orderBy('v.position')
      .limit(1),
  )?.value;

/** Enters a parcel. */
export const insertShipment = (db: WriteDb, row: ShipmentsTable): number =>
  db.run(db.q.insertInto('shipments').values(row));

/** Changes a parcel. @returns how many rows changed */
export const updateShipment = (db: WriteDb, id: string, row: Partial<Omit<ShipmentsTable, 'id'>>): number =>
  db.run(db.q.updateTable('shipments').set(row).where('id', '=', id));

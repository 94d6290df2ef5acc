/** Reading suppliers and stock items. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';
import { contains } from './like.ts';

/** Every supplier, those in use first. */
export const supplierRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('suppliers').selectAll().orderBy('archived').orderBy('name'));

/** One supplier. */
export const supplierRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('suppliers').selectAll().where('id', '=', id));

/** The supplier of a name, if there is one. */
export const supplierNamed = (db: ReadDb, name: string) =>
  db.one(db.q.selectFrom('suppliers').select('id').where('name', '=', name));

/** One item. */
export const itemRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('items').selectAll().where('id', '=', id));

/** The item of a name, if there is one. */
export const itemNamed = (db: ReadDb, name: string) =>
  db.one(db.q.selectFrom('items').select('id').where('name', '=', name));

/** True once there are lots of the item. */
export const itemHasLots = (db: ReadDb, id: string): boolean =>
  db.one(db.q.selectFrom('lots').select('id').where('item_id', '=', id).limit(1)) !== undefined;

export interface ItemFilter {
  readonly id?: string;
  readonly text?: string;
  readonly kinds?: readonly string[];
  readonly includeArchived?: boolean;
  /** Only those of which less is left than the maker wants. */
  readonly onlyLow?: boolean;
}

/** What lies on the rack of each item. Sums over the partial index of lots that have something left. */
const onRack = (db: ReadDb) =>
  db.q
    .selectFrom('lots')
    .where('qty_left', '>', 0)
    .groupBy('item_id')
    .select(({ fn }) => [
      'item_id',
      fn.sum<number>('qty_left').as('qty'),
      fn.sum<number>('value_left_micro').as('value'),
      fn.countAll<number>().as('lots'),
    ]);

/** The newest lot of the item that was bought and whose receipt still stands. */
const newestBought = sql<string | null>`(
  SELECT l.id FROM lots l
  WHERE l.item_id = items.id AND l.purchase_line_id IS NOT NULL
    AND NOT EXISTS (
      SELECT 1 FROM movements m JOIN movements r ON r.reverses_id = m.id WHERE m.lot_id = l.id AND m.kind = 'receipt'
    )
  ORDER BY l.received_on DESC, l.number DESC LIMIT 1
)`;

/** Items with what is left of them and the lot that tells their last price. */
export function itemRows(db: ReadDb, filter: ItemFilter) {
  let query = db.q
    .selectFrom('items')
    .leftJoin(onRack(db).as('rack'), 'rack.item_id', 'items.id')
    .leftJoin('suppliers', 'suppliers.id', 'items.supplier_id')
    .leftJoin('lots as bought', (join) => join.on(sql<boolean>`bought.id = ${newestBought}`))
    .selectAll('items')
    .select(({ fn }) => [
      'suppliers.name as supplier_name',
      fn.coalesce('rack.qty', sql<number>`0`).as('qty_left'),
      fn.coalesce('rack.value', sql<number>`0`).as('value_left_micro'),
      fn.coalesce('rack.lots', sql<number>`0`).as('lots_left'),
      'bought.qty_received as bought_qty',
      'bought.value_received_micro as bought_value_micro',
    ])
    .orderBy('items.archived')
    .orderBy('items.name');
  if (filter.id !== undefined) query = query.where('items.id', '=', filter.id);
  if (filter.text) {
    const { text } = filter;
    query = query.where((eb) =>
      eb.or([contains(eb.ref('items.name'), text), contains(eb.ref('suppliers.name'), text)]),
    );
  }
  if (filter.kinds && filter.kinds.length > 0) query = query.where('items.kind', 'in', filter.kinds);
  if (filter.includeArchived !== true) query = query.where('items.archived', '=', 0);
  if (filter.onlyLow) query = query.where(sql<boolean>`coalesce(rack.qty, 0) < items.low_level`);
  return db.all(query);
}

export type ItemListRow = ReturnType<typeof itemRows>[number];

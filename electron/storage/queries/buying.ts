/** Reading what open knives still need, how items came last, and what is on its way. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { SupplyOrderLinesTable, SupplyOrdersTable } from '../schema-forge.ts';
import { partTaken } from './part-taken.ts';

/**
 * Usual parts that open knives have not taken yet. Packaging is wanted by finished knives too, until they are sold.
 * Consumables that come by openings are not needed by the knife but by the shelf's low level.
 */
export const openNeeds = (db: ReadDb, until: string | undefined) => {
  const query = db.q
    .selectFrom('builds as b')
    .innerJoin('model_parts as p', 'p.model_id', 'b.model_id')
    .innerJoin('items as i', 'i.id', 'p.item_id')
    .select([
      'b.id as build_id',
      'b.serial',
      'b.state',
      'b.planned_on',
      'p.item_id',
      'p.qty',
      'p.per_bar',
      'p.use_as',
      'i.form',
      'i.kerf_nm',
      partTaken().as('taken'),
    ])
    .where('p.rung', '<>', 3)
    .where((eb) =>
      eb.or([
        eb('b.state', 'in', ['planned', 'inWork']),
        eb.and([eb('b.state', '=', 'finished'), eb('p.use_as', '=', 'packaging')]),
      ]),
    )
    .orderBy('b.planned_on')
    .orderBy('b.number');
  return db.all(until === undefined ? query : query.where('b.planned_on', '<=', until));
};

/** The newest standing purchase line of an item: how it comes, at what price with its freight, and from whom. */
export const lastBought = (db: ReadDb, itemId: string) =>
  db.one(
    db.q
      .selectFrom('purchase_lines as l')
      .innerJoin('purchases as p', 'p.id', 'l.purchase_id')
      .select([
        'l.pieces',
        'l.qty_each',
        sql<number>`l.price_micro + l.freight_share_micro`.as('paid_micro'),
        'p.supplier_id',
      ])
      .where('l.item_id', '=', itemId)
      .where(
        sql<boolean>`NOT EXISTS (
          SELECT 1 FROM lots t JOIN movements m ON m.lot_id = t.id AND m.kind = 'receipt'
          JOIN movements r ON r.reverses_id = m.id WHERE t.purchase_line_id = l.id
        )`,
      )
      .orderBy('p.on_date', 'desc')
      .orderBy(sql`p.rowid`, 'desc')
      .limit(1),
  );

/** What is ordered and has not come, per item. */
export const onOrder = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('supply_order_lines as l')
      .innerJoin('supply_orders as o', 'o.id', 'l.order_id')
      .select(['l.item_id', sql<number>`sum(l.pieces * l.qty_each)`.as('qty')])
      .where('o.state', '=', 'open')
      .groupBy('l.item_id'),
  );

const orders = (db: ReadDb) =>
  db.q
    .selectFrom('supply_orders as o')
    .innerJoin('suppliers as s', 's.id', 'o.supplier_id')
    .selectAll('o')
    .select(['s.name as supplier_name', 's.email as supplier_email']);

/** Orders at suppliers in given states, the ones due first on top. */
export const supplyOrders = (db: ReadDb, states: readonly string[]) =>
  db.all(
    orders(db)
      .where('o.state', 'in', states)
      .orderBy(sql`o.due_on IS NULL`)
      .orderBy('o.due_on')
      .orderBy('o.number', 'desc'),
  );

/** One order at a supplier. */
export const supplyOrder = (db: ReadDb, id: string) => db.one(orders(db).where('o.id', '=', id));

/** Open orders that should have come by a day. */
export const suppliesDue = (db: ReadDb, today: string) =>
  db.all(orders(db).where('o.state', '=', 'open').where('o.due_on', '<=', today).orderBy('o.due_on'));

/** Lines of orders, in order. */
export const supplyLines = (db: ReadDb, orderIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('supply_order_lines as l')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .selectAll('l')
      .select(['i.name as item_name', 'i.form', 'i.unit', 'i.piece_word'])
      .where('l.order_id', 'in', orderIds)
      .orderBy('l.order_id')
      .orderBy('l.position'),
  );

/** The next number of an order. */
export const nextOrderNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('supply_orders').select(({ fn }) => fn.max('number').as('n')))?.n ?? 0) + 1;

/** Writes an order with its lines. */
export function insertOrder(
  db: WriteDb,
  row: SupplyOrdersTable,
  lines: readonly SupplyOrderLinesTable[],
): void {
  db.run(db.q.insertInto('supply_orders').values(row));
  for (const line of lines) db.run(db.q.insertInto('supply_order_lines').values(line));
}

/** Ends an order: it came, or it will not. */
export const endOrder = (
  db: WriteDb,
  id: string,
  to: { readonly state: 'received' | 'dropped'; readonly purchase_id: string | null; readonly note: string },
): number => db.run(db.q.updateTable('supply_orders').set(to).where('id', '=', id));

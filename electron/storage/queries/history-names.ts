/** Names of what journal entries are about, and the other way round: what bears a name. */
import { type Expression, type RawBuilder, sql, type SqlBool } from 'kysely';
import type { ReadDb } from '../db.ts';
import { amongIds, contains } from './like.ts';
import { heatTagOf } from './heats.ts';
import { makingTagOf, numberOfTag, tagOf } from './lots.ts';
import { orderTagOf } from './orders.ts';
import { quoteTagOf } from './quotes.ts';
import { ownOfSale } from './selling.ts';

/** What a name stands for, in the order a line of history tells them. */
export type NamedKind =
  | 'build'
  | 'sale'
  | 'invoice'
  | 'order'
  | 'buyer'
  | 'making'
  | 'heat'
  | 'lot'
  | 'item'
  | 'purchase'
  | 'supplier'
  | 'model'
  | 'house';

export interface NamedThing {
  readonly id: string;
  readonly kind: NamedKind;
  /** E.g. the serial, or the serial, buyer and invoice of a sale. */
  readonly name: string;
}

type Rows = readonly { readonly id: string; readonly name: string }[];

const as = (kind: NamedKind, rows: Rows): NamedThing[] => rows.map(({ id, name }) => ({ id, kind, name }));

/** Parts of a name, those that are empty left out. */
const joined = (...parts: readonly (string | null)[]): string =>
  parts.filter((part) => part !== null && part !== '').join(', ');

const among = (column: string, ids: readonly string[]): RawBuilder<SqlBool> => amongIds(sql.ref(column), ids);

const builds = (db: ReadDb, ids: readonly string[]): NamedThing[] =>
  as('build', db.all(db.q.selectFrom('builds').select(['id', 'serial as name']).where(among('id', ids))));

/** Things that belong to one knife, told by its serial: charges, and sessions by any of their versions. */
const onKnives = (db: ReadDb, ids: readonly string[]): NamedThing[] => [
  ...as(
    'build',
    db.all(
      db.q
        .selectFrom('charges as c')
        .innerJoin('builds as b', 'b.id', 'c.build_id')
        .select(['c.id', sql<string>`b.serial || ', ' || c.label`.as('name')])
        .where(among('c.id', ids)),
    ),
  ),
  ...as(
    'build',
    db.all(
      db.q
        .selectFrom('sessions as s')
        .innerJoin('session_shares as h', 'h.session_id', 's.id')
        .innerJoin('builds as b', 'b.id', 'h.build_id')
        .select(['s.id', sql<string>`group_concat(b.serial, ', ')`.as('name')])
        .where(among('s.id', ids))
        .groupBy('s.id'),
    ),
  ),
];

const sales = (db: ReadDb) =>
  db.q
    .selectFrom('sales as s')
    .innerJoin('builds as b', 'b.id', 's.build_id')
    .innerJoin('buyers as p', 'p.id', 's.buyer_id')
    .leftJoin('invoices as i', (join) => join.onRef('i.sale_id', '=', 's.id').on('i.kind', 'in', ownOfSale))
    .select(['s.id', 's.build_id', 's.on_date', 'b.serial', 'p.name as buyer', 'i.number']);

const salesNamed = (db: ReadDb, ids: readonly string[]): NamedThing[] =>
  as(
    'sale',
    db
      .all(sales(db).where(among('s.id', ids)))
      .map((row) => ({ id: row.id, name: joined(row.serial, row.buyer, row.number) })),
  );

/** Invoices and the payments on them. */
const invoices = (db: ReadDb, ids: readonly string[]): NamedThing[] => {
  const own = db.q
    .selectFrom('invoices')
    .select(['id', sql<string>`number || ', ' || buyer_name`.as('name')])
    .where(among('id', ids));
  const paid = db.q
    .selectFrom('payments as y')
    .innerJoin('invoices as i', 'i.id', 'y.invoice_id')
    .select(['y.id', sql<string>`i.number || ', ' || i.buyer_name`.as('name')])
    .where(among('y.id', ids));
  return as('invoice', db.all(own.unionAll(paid)));
};

/** Lots, and movements by their lot and the knife they went into. */
const lots = (db: ReadDb, ids: readonly string[]): NamedThing[] => {
  const own = db.all(
    db.q
      .selectFrom('lots as l')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select(['l.id', 'l.number', 'i.name as item'])
      .where(among('l.id', ids)),
  );
  const moved = db.all(
    db.q
      .selectFrom('movements as m')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .leftJoin('builds as b', 'b.id', 'm.build_id')
      .select(['m.id', 'l.number', 'i.name as item', 'b.serial'])
      .where(among('m.id', ids)),
  );
  return as('lot', [
    ...own.map((row) => ({ id: row.id, name: joined(tagOf(row.number), row.item) })),
    ...moved.map((row) => ({ id: row.id, name: joined(row.serial, tagOf(row.number), row.item) })),
  ]);
};

/** Orders by their tag and buyer, and rules for deposits. */
const ordersNamed = (db: ReadDb, ids: readonly string[]): NamedThing[] => {
  const rows = db.all(
    db.q
      .selectFrom('orders as o')
      .innerJoin('buyers as p', 'p.id', 'o.buyer_id')
      .select(['o.id', 'o.number', 'p.name as buyer'])
      .where(among('o.id', ids)),
  );
  const rules = db.q.selectFrom('deposit_policies').select(['id', 'name']).where(among('id', ids));
  return [
    ...as(
      'order',
      rows.map((row) => ({ id: row.id, name: joined(orderTagOf(row.number), row.buyer) })),
    ),
    ...as('house', db.all(rules)),
  ];
};

/** Quotes by their tag and buyer. */
const quotesNamed = (db: ReadDb, ids: readonly string[]): NamedThing[] =>
  as(
    'order',
    db
      .all(
        db.q
          .selectFrom('quotes as q')
          .innerJoin('buyers as p', 'p.id', 'q.buyer_id')
          .select(['q.id', 'q.number', 'p.name as buyer'])
          .where(among('q.id', ids)),
      )
      .map((row) => ({ id: row.id, name: joined(quoteTagOf(row.number), row.buyer) })),
  );

/** Delivery addresses and times of support, told by the buyer they belong to. */
const ofBuyers = (db: ReadDb, ids: readonly string[]): NamedThing[] =>
  (['buyer_addresses', 'supporter_spans'] as const).flatMap((table) =>
    as(
      'buyer',
      db.all(
        db.q
          .selectFrom(table)
          .innerJoin('buyers as p', 'p.id', `${table}.buyer_id`)
          .select([`${table}.id`, 'p.name'])
          .where(among(`${table}.id`, ids)),
      ),
    ),
  );

const plain = (db: ReadDb, ids: readonly string[]): NamedThing[] => [
  ...as('buyer', db.all(db.q.selectFrom('buyers').select(['id', 'name']).where(among('id', ids)))),
  ...as('item', db.all(db.q.selectFrom('items').select(['id', 'name']).where(among('id', ids)))),
  ...as('supplier', db.all(db.q.selectFrom('suppliers').select(['id', 'name']).where(among('id', ids)))),
  ...as('model', db.all(db.q.selectFrom('models').select(['id', 'name']).where(among('id', ids)))),
];

/** Makings and their charges, heat treatments, openings by their item, orders, baths, ovens, recipes and helpers. */
const forge = (db: ReadDb, ids: readonly string[]): NamedThing[] => {
  const makings = db.all(
    db.q.selectFrom('makings').select(['id', 'number', 'title']).where(among('id', ids)),
  );
  const heats = db.all(db.q.selectFrom('heats').select(['id', 'number', 'batch']).where(among('id', ids)));
  const opened = db.all(
    db.q
      .selectFrom('openings as o')
      .innerJoin('items as i', 'i.id', 'o.item_id')
      .select(['o.id', 'i.name'])
      .where(among('o.id', ids)),
  );
  const checked = db.all(
    db.q
      .selectFrom('checks as c')
      .innerJoin('builds as b', 'b.id', 'c.build_id')
      .select(['c.id', 'b.serial as name'])
      .where(among('c.id', ids)),
  );
  const plainNames = (['baths', 'fires', 'recipes', 'people', 'supporter_levels'] as const).flatMap((table) =>
    db.all(db.q.selectFrom(table).select(['id', 'name']).where(among('id', ids))),
  );
  return [
    ...as(
      'making',
      makings.map((row) => ({ id: row.id, name: joined(makingTagOf(row.number), row.title) })),
    ),
    ...as(
      'heat',
      heats.map((row) => ({ id: row.id, name: joined(heatTagOf(row.number), row.batch) })),
    ),
    ...as('item', opened),
    ...as('build', checked),
    ...as('house', plainNames),
  ];
};

/** Parcels and services, told by their knife. */
const afterSale = (db: ReadDb, ids: readonly string[]): NamedThing[] => [
  ...as(
    'build',
    db.all(
      db.q
        .selectFrom('shipments as t')
        .innerJoin('sales as s', 's.id', 't.sale_id')
        .innerJoin('builds as b', 'b.id', 's.build_id')
        .select(['t.id', 'b.serial as name'])
        .where(among('t.id', ids)),
    ),
  ),
  ...as(
    'build',
    db.all(
      db.q
        .selectFrom('services as v')
        .leftJoin('builds as b', 'b.id', 'v.build_id')
        .select(['v.id', sql<string>`coalesce(b.serial, v.knife)`.as('name')])
        .where(among('v.id', ids)),
    ),
  ),
];

/** Releases, and what happened in them told by its knife. */
const releasesNamed = (db: ReadDb, ids: readonly string[]): NamedThing[] => [
  ...as(
    'house',
    db.all(
      db.q
        .selectFrom('releases')
        .select(['id', sql<string>`'R' || number || ', ' || title`.as('name')])
        .where(among('id', ids)),
    ),
  ),
  ...as(
    'build',
    db.all(
      db.q
        .selectFrom('claims as c')
        .innerJoin('builds as b', 'b.id', 'c.build_id')
        .innerJoin('buyers as p', 'p.id', 'c.buyer_id')
        .select(['c.id', sql<string>`b.serial || ', ' || p.name`.as('name')])
        .where(among('c.id', ids)),
    ),
  ),
  ...as(
    'buyer',
    db.all(
      db.q
        .selectFrom('release_entries as e')
        .innerJoin('buyers as p', 'p.id', 'e.buyer_id')
        .select(['e.id', 'p.name'])
        .where(among('e.id', ids)),
    ),
  ),
];

/** Stocktakes by their day, and their lines by what is counted. */
const stocktakes = (db: ReadDb, ids: readonly string[]): NamedThing[] => [
  ...as(
    'house',
    db.all(
      db.q
        .selectFrom('stocktakes')
        .select(['id', sql<string>`'ST' || number || ', ' || on_date`.as('name')])
        .where(among('id', ids)),
    ),
  ),
  ...as(
    'item',
    db.all(
      db.q
        .selectFrom('stocktake_lines as l')
        .innerJoin('items as i', 'i.id', 'l.item_id')
        .select(['l.id', 'i.name'])
        .where(among('l.id', ids)),
    ),
  ),
];

/** Expenses, trips, assets and income, told by their payee or what they were for. */
const moneyNamed = (db: ReadDb, ids: readonly string[]): NamedThing[] => [
  ...as(
    'house',
    db.all(
      db.q
        .selectFrom('expenses as e')
        .innerJoin('expense_categories as c', 'c.id', 'e.category_id')
        .select(['e.id', sql<string>`trim(e.payee || ', ' || c.name, ', ')`.as('name')])
        .where(among('e.id', ids)),
    ),
  ),
  ...as(
    'house',
    db.all(db.q.selectFrom('mileage').select(['id', 'purpose as name']).where(among('id', ids))),
  ),
  ...as('house', db.all(db.q.selectFrom('incomes').select(['id', 'payer as name']).where(among('id', ids)))),
  ...(['assets', 'expense_categories'] as const).flatMap((table) =>
    as('house', db.all(db.q.selectFrom(table).select(['id', 'name']).where(among('id', ids)))),
  ),
];

/** What ids stand for. Ids are unique over all tables; those of things that bear no name are left out. */
export function namedThings(db: ReadDb, ids: readonly string[]): ReadonlyMap<string, NamedThing> {
  const found = [
    builds,
    onKnives,
    salesNamed,
    ordersNamed,
    quotesNamed,
    invoices,
    lots,
    plain,
    ofBuyers,
    forge,
    afterSale,
    releasesNamed,
    stocktakes,
    moneyNamed,
  ].flatMap((look) => look(db, ids));
  return new Map(found.map((thing) => [thing.id, thing]));
}

/** Sales of knives, to name the invoice that was issued in the same step. */
export const salesOfBuilds = (db: ReadDb, buildIds: readonly string[]) =>
  db.all(sales(db).where(among('s.build_id', buildIds)));

const MOST = 40;

/** Ids of what bears a name with this text in it: knives, lots, items, buyers, invoices, suppliers and models. */
export function idsNamed(db: ReadDb, text: string): readonly string[] {
  const like = (column: Expression<unknown>): RawBuilder<SqlBool> => contains(column, text);
  const named = (table: 'buyers' | 'items' | 'suppliers' | 'models') =>
    db.q
      .selectFrom(table)
      .select('id')
      .where(like(sql.ref('name')))
      .limit(MOST);
  const invoiceIds = db.q
    .selectFrom('invoices')
    .select(['id', 'sale_id', 'buyer_id'])
    .where(like(sql.ref('number')))
    .limit(MOST);
  const lot = numberOfTag(text);
  return [
    ...db.all(
      db.q
        .selectFrom('builds')
        .select('id')
        .where(like(sql.ref('serial')))
        .limit(MOST),
    ),
    ...(['buyers', 'items', 'suppliers', 'models'] as const).flatMap((table) => db.all(named(table))),
    ...db
      .all(invoiceIds)
      .flatMap((row) => [{ id: row.id }, ...(row.sale_id === null ? [] : [{ id: row.sale_id }])]),
    ...(lot === undefined ? [] : db.all(db.q.selectFrom('lots').select('id').where('number', '=', lot))),
  ].map((row) => row.id);
}

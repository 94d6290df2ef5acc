/** Buyers and sales. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { BuyersTable, SalesTable } from '../schema-selling.ts';
import { amongIds, contains } from './like.ts';

/** What a sale brought in together, whichever way the place counts its tax. */
const charged = sql<number>`s.price_minor + s.shipping_minor + case s.tax_inclusive when 1 then 0 else s.tax_minor end`;

export interface BuyerFilter {
  readonly text: string;
  readonly includeArchived: boolean;
}

/** Spans of support that have no end; `p` is the buyer. */
const supporting = sql<number>`(select count(*) from supporter_spans z where z.buyer_id = p.id and z.until_on is null)`;

const buyers = (db: ReadDb) =>
  db.q
    .selectFrom('buyers as p')
    .leftJoin(
      (e) =>
        e
          .selectFrom('sales as s')
          .where('s.taken_back_on', 'is', null)
          .groupBy('s.buyer_id')
          .select([
            's.buyer_id',
            (f) => f.fn.countAll<number>().as('bought'),
            (f) => f.fn.max('s.on_date').as('last_on'),
          ])
          .select(sql<number>`sum(${charged})`.as('spent'))
          .as('b'),
      (join) => join.onRef('b.buyer_id', '=', 'p.id'),
    )
    .selectAll('p')
    .select(supporting.as('supporting'))
    .select([
      'b.last_on',
      sql<number>`coalesce(b.bought, 0)`.as('bought'),
      sql<number>`coalesce(b.spent, 0)`.as('spent'),
    ]);

const matchingBuyers = (filter: BuyerFilter) => {
  const text = contains(sql.ref('p.name'), filter.text);
  const more = contains(sql`p.email || ' ' || p.phone || ' ' || p.address || ' ' || p.note`, filter.text);
  const found = filter.text === '' ? sql<boolean>`1` : sql<boolean>`(${text} or ${more})`;
  return filter.includeArchived ? found : sql<boolean>`(p.archived = 0 and ${found})`;
};

/** Buyers by name, with what they bought. */
export const listBuyers = (db: ReadDb, filter: BuyerFilter, limit: number, offset: number) =>
  db.all(
    buyers(db)
      .where(matchingBuyers(filter))
      .orderBy(sql`p.name collate nocase`)
      .orderBy('p.id')
      .limit(limit)
      .offset(offset),
  );
export type BuyerRecord = ReturnType<typeof listBuyers>[number];

/** How many buyers match. */
export const countBuyers = (db: ReadDb, filter: BuyerFilter): number =>
  db.one(
    db.q
      .selectFrom('buyers as p')
      .where(matchingBuyers(filter))
      .select((e) => e.fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** One buyer with what they bought. */
export const buyerRecord = (db: ReadDb, id: string): BuyerRecord | undefined =>
  db.one(buyers(db).where('p.id', '=', id));

/** Columns of a buyer as written. */
export type BuyerRow = Insertable<BuyersTable>;

/** Enters a buyer. */
export const insertBuyer = (db: WriteDb, row: BuyerRow): number =>
  db.run(db.q.insertInto('buyers').values(row));

/** Changes a buyer. @returns how many rows changed: none for an unknown id */
export const updateBuyer = (db: WriteDb, { id, ...row }: BuyerRow): number =>
  db.run(db.q.updateTable('buyers').set(row).where('id', '=', id));

export interface SaleFilter {
  readonly text?: string;
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly buyerId?: string;
  readonly id?: string;
}

const joinedSales = (db: ReadDb) =>
  db.q
    .selectFrom('sales as s')
    .innerJoin('builds as b', 'b.id', 's.build_id')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .innerJoin('buyers as p', 'p.id', 's.buyer_id')
    .innerJoin('channels as c', 'c.id', 's.channel_id')
    .leftJoin('invoices as i', (join) => join.onRef('i.sale_id', '=', 's.id').on('i.kind', '=', 'sale'));

function matchingSales(db: ReadDb, filter: SaleFilter) {
  let found = joinedSales(db);
  if (filter.id !== undefined) found = found.where('s.id', '=', filter.id);
  if (filter.buyerId !== undefined) found = found.where('s.buyer_id', '=', filter.buyerId);
  if (filter.from !== undefined) found = found.where('s.on_date', '>=', filter.from);
  if (filter.to !== undefined) found = found.where('s.on_date', '<=', filter.to);
  if (filter.text !== undefined && filter.text !== '') {
    const words = sql`b.serial || ' ' || b.title || ' ' || m.code || ' ' || m.name || ' ' || p.name || ' ' || coalesce(i.number, '')`;
    found = found.where(sql<boolean>`${contains(words, filter.text)}`);
  }
  return found;
}

/** Sales, newest first, with the names a list shows. */
export const listSales = (db: ReadDb, filter: SaleFilter, limit: number, offset: number) =>
  db.all(
    matchingSales(db, filter)
      .selectAll('s')
      .select(['b.serial', 'b.title', 'b.minutes', 'm.code as model_code', 'm.name as model_name'])
      .select([
        'p.name as buyer_name',
        'c.name as channel_name',
        'i.id as invoice_id',
        'i.number as invoice_number',
      ])
      .orderBy('s.on_date', 'desc')
      .orderBy('b.number', 'desc')
      .limit(limit)
      .offset(offset),
  );
export type SaleRecord = ReturnType<typeof listSales>[number];

/** How many sales match. */
export const countSales = (db: ReadDb, filter: SaleFilter): number =>
  db.one(matchingSales(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** One sale with its names and its invoice. */
export const saleRecord = (db: ReadDb, id: string): SaleRecord | undefined => listSales(db, { id }, 1, 0)[0];

/** Books a sale. */
export const insertSale = (db: WriteDb, row: SalesTable): number =>
  db.run(db.q.insertInto('sales').values(row));

/** Changes a sale. @returns how many rows changed */
export const updateSale = (db: WriteDb, id: string, row: Partial<Omit<SalesTable, 'id'>>): number =>
  db.run(db.q.updateTable('sales').set(row).where('id', '=', id));

/** Moves a knife on when it is sold or comes back. */
export const moveKnife = (
  db: WriteDb,
  id: string,
  row: { state: string; ended_on?: string | null; end_reason?: string },
): number => db.run(db.q.updateTable('builds').set(row).where('id', '=', id));

/** The latest day a sold knife came back, if it ever did; `b` is the knife. */
export const cameBackOn = sql<
  string | null
>`(SELECT max(taken_back_on) FROM sales WHERE sales.build_id = b.id)`;

/** Knives with what a sale asks of them. */
export const knivesForSale = (db: ReadDb, ids: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .where(amongIds(sql.ref('b.id'), ids))
      .select([
        'b.id',
        'b.serial',
        'b.title',
        'b.state',
        'b.finished_on',
        'b.minutes',
        'm.code',
        'm.name as model_name',
        cameBackOn.as('came_back_on'),
      ]),
  );
export type KnifeForSale = ReturnType<typeof knivesForSale>[number];

/** One channel. */
export const channelRecord = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('channels').selectAll().where('id', '=', id));

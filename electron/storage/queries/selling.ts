/** Buyers and sales. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { BuyersTable, SalesTable } from '../schema-selling.ts';
import { amongIds, contains } from './like.ts';

/** One buyer, whether kept or put together with another. */
export const buyerRecord = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('buyers').selectAll().where('id', '=', id));
export type BuyerRecord = NonNullable<ReturnType<typeof buyerRecord>>;

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

/** Kinds of the one invoice a sale has of its own. */
export const ownOfSale = ['sale', 'second', 'balance'] as const;

/** What credits took off the own invoice of sale `s`, above zero. */
export const creditedOf = (column: 'net_minor' | 'tax_minor') =>
  sql<number>`coalesce((select -sum(${sql.ref(`k.${column}`)}) from invoices k join invoices w on w.id = k.credits_id where w.sale_id = s.id), 0)`;

const joinedSales = (db: ReadDb) =>
  db.q
    .selectFrom('sales as s')
    .innerJoin('builds as b', 'b.id', 's.build_id')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .innerJoin('buyers as p', 'p.id', 's.buyer_id')
    .innerJoin('channels as c', 'c.id', 's.channel_id')
    .leftJoin('invoices as i', (join) => join.onRef('i.sale_id', '=', 's.id').on('i.kind', 'in', ownOfSale));

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
      .select([creditedOf('net_minor').as('credited_net'), creditedOf('tax_minor').as('credited_tax')])
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
        'b.flaw',
        'm.code',
        'm.name as model_name',
        cameBackOn.as('came_back_on'),
      ]),
  );
export type KnifeForSale = ReturnType<typeof knivesForSale>[number];

/** One channel. */
export const channelRecord = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('channels').selectAll().where('id', '=', id));

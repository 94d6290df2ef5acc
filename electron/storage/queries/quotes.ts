/** Own knives near to a wish, what knives were sold for, how a sale was posted; and the quotes kept. */
import { type Insertable, sql, type Updateable } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { QuoteOptionsTable, QuotesTable } from '../schema-answers.ts';
import { contains } from './like.ts';
import { creditedOf } from './selling.ts';

const TAG_DIGITS = 4;

/** The short name of a quote, e.g. `Q-0007`. */
export const quoteTagOf = (number: number): string => `Q-${String(number).padStart(TAG_DIGITS, '0')}`;

/** Size, steel and finish of knife `b`, the model's where it says nothing of its own. */
const bladeOf = sql<number | null>`coalesce(b.blade_nm, m.blade_nm)`;
const steelOf = sql<string>`coalesce(b.steel, m.steel)`;
const finishOf = sql<string>`coalesce(b.finish, m.finish)`;

/** Finished knives with hours of a model, or of its whole family, newest first. */
export const finishedKnives = (
  db: ReadDb,
  model: { readonly id: string; readonly family: string },
  filter: { readonly family: boolean; readonly since: string | null },
) => {
  let query = db.q
    .selectFrom('builds as b')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .where('b.state', 'in', ['finished', 'sold', 'kept'])
    .where('b.finished_on', 'is not', null)
    .where('b.minutes', '>', 0)
    .select(['b.id', 'b.serial', 'b.model_id', 'b.method', 'b.minutes', 'm.name as model_name'])
    .select([
      bladeOf.as('blade_nm'),
      steelOf.as('steel'),
      finishOf.as('finish'),
      sql<string>`b.finished_on`.as('finished_on'),
    ])
    .orderBy('b.finished_on', 'desc')
    .orderBy('b.number', 'desc');
  if (filter.since !== null) query = query.where('b.finished_on', '>=', filter.since);
  return db.all(
    filter.family && model.family !== ''
      ? query.where('m.family', '=', model.family)
      : query.where('b.model_id', '=', model.id),
  );
};
export type FinishedKnife = ReturnType<typeof finishedKnives>[number];

/** What of the price of sale `s` was for options and special material of its order. */
const besideKnife = sql<number>`coalesce((select o.special_minor + coalesce(
    (select sum(x.price_minor) from order_options x where x.order_id = o.id), 0)
  from orders o where o.id = s.order_id), 0)`;

/** Sales that stand, of knives without a flaw, with the knife's size and finish, newest first. */
export const knivesSold = (
  db: ReadDb,
  filter: { readonly limit: number; readonly modelId?: string; readonly family?: string },
) => {
  let query = db.q
    .selectFrom('sales as s')
    .innerJoin('builds as b', 'b.id', 's.build_id')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .where('s.taken_back_on', 'is', null)
    .where('s.flaw', '=', '')
    .selectAll('s')
    .select(['b.serial', 'b.finished_on', bladeOf.as('blade_nm'), finishOf.as('finish')])
    .select([creditedOf('net_minor').as('credited_net'), creditedOf('tax_minor').as('credited_tax')])
    .select(besideKnife.as('beside_minor'))
    .orderBy('s.on_date', 'desc')
    .orderBy('b.number', 'desc')
    .limit(filter.limit);
  if (filter.modelId !== undefined) query = query.where('b.model_id', '=', filter.modelId);
  if (filter.family !== undefined) query = query.where('m.family', '=', filter.family);
  return db.all(query);
};
export type KnifeSold = ReturnType<typeof knivesSold>[number];

/** How knives were posted, those of the model first, then the newest first. */
export const lastPosting = (db: ReadDb, modelId: string, abroad: boolean) =>
  db.one(
    db.q
      .selectFrom('sales as s')
      .innerJoin('builds as b', 'b.id', 's.build_id')
      .where('s.taken_back_on', 'is', null)
      .where('s.abroad', '=', abroad ? 1 : 0)
      .select(['s.on_date', 's.shipping_minor', 's.postage_paid_minor', 'b.serial', 'b.model_id'])
      .orderBy(sql`b.model_id = ${modelId}`, 'desc')
      .orderBy('s.on_date', 'desc')
      .orderBy('b.number', 'desc')
      .limit(1),
  );

/** The newest lot of an item that was made here, with what it cost. */
export const lastMade = (db: ReadDb, itemId: string) =>
  db.one(
    db.q
      .selectFrom('lots')
      .where('item_id', '=', itemId)
      .where('making_id', 'is not', null)
      .where('qty_received', '>', 0)
      .select(['id', 'qty_received', 'value_received_micro', 'received_on'])
      .select(sql<string>`making_id`.as('making_id'))
      .orderBy('received_on', 'desc')
      .orderBy('number', 'desc')
      .limit(1),
  );

export type QuoteShow = 'open' | 'lapsed' | 'offered' | 'closed' | 'all';

export interface QuoteFilter {
  readonly id?: string;
  readonly text?: string;
  readonly show?: QuoteShow;
  readonly buyerId?: string | undefined;
  readonly orderId?: string | undefined;
  /** Local day, for what has lapsed. */
  readonly today: string;
}

const running = sql<boolean>`(q.taken_on IS NULL AND q.closed_on IS NULL)`;
const shown: Readonly<Record<QuoteShow, (today: string) => ReturnType<typeof sql<boolean>>>> = {
  all: () => sql<boolean>`1`,
  open: (today) => sql<boolean>`(${running} AND q.valid_until >= ${today})`,
  lapsed: (today) => sql<boolean>`(${running} AND q.valid_until < ${today})`,
  offered: () => sql<boolean>`q.taken_on IS NOT NULL`,
  closed: () => sql<boolean>`q.closed_on IS NOT NULL`,
};

function matching(db: ReadDb, filter: QuoteFilter) {
  let found = db.q
    .selectFrom('quotes as q')
    .innerJoin('buyers as p', 'p.id', 'q.buyer_id')
    .innerJoin('models as m', 'm.id', 'q.model_id')
    .leftJoin('orders as o', 'o.id', 'q.order_id');
  if (filter.id !== undefined) found = found.where('q.id', '=', filter.id);
  if (filter.buyerId !== undefined) found = found.where('q.buyer_id', '=', filter.buyerId);
  if (filter.orderId !== undefined) found = found.where('q.order_id', '=', filter.orderId);
  if (filter.show !== undefined) found = found.where(shown[filter.show](filter.today));
  if (filter.text !== undefined && filter.text !== '') {
    const words = sql`p.name || ' ' || m.code || ' ' || m.name || ' ' || q.wish || ' Q-' || printf('%04d', q.number)`;
    found = found.where(sql<boolean>`${contains(words, filter.text)}`);
  }
  return found;
}

/** Quotes, newest first, with the names a list shows. */
export const listQuotes = (db: ReadDb, filter: QuoteFilter, limit: number, offset: number) =>
  db.all(
    matching(db, filter)
      .selectAll('q')
      .select(['p.name as buyer_name', 'm.name as model_name', 'o.number as order_number'])
      .select('o.state as order_state')
      .select(
        sql<number>`coalesce((SELECT sum(x.price_minor) FROM quote_options x WHERE x.quote_id = q.id), 0)`.as(
          'options_minor',
        ),
      )
      .orderBy('q.number', 'desc')
      .limit(limit)
      .offset(offset),
  );
export type QuoteRecord = ReturnType<typeof listQuotes>[number];

/** How many quotes match. */
export const countQuotes = (db: ReadDb, filter: QuoteFilter): number =>
  db.one(matching(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** Options of a quote, in order. */
export const quoteOptionRows = (db: ReadDb, quoteId: string): QuoteOptionsTable[] =>
  db.all(db.q.selectFrom('quote_options').selectAll().where('quote_id', '=', quoteId).orderBy('position'));

/** The number after the last one. */
export const nextQuoteNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('quotes').select((e) => e.fn.max('number').as('last')))?.last ?? 0) + 1;

/** Keeps a quote with its options. */
export function insertQuote(
  db: WriteDb,
  row: Insertable<QuotesTable>,
  options: readonly Omit<QuoteOptionsTable, 'quote_id' | 'position'>[],
): void {
  db.run(db.q.insertInto('quotes').values(row));
  for (const [position, option] of options.entries())
    db.run(db.q.insertInto('quote_options').values({ ...option, quote_id: row.id, position }));
}

/** What became of a quote. @returns how many rows changed */
export const endQuote = (
  db: WriteDb,
  id: string,
  row: Pick<Updateable<QuotesTable>, 'order_id' | 'taken_on' | 'closed_on' | 'close_reason'>,
): number => db.run(db.q.updateTable('quotes').set(row).where('id', '=', id));

/** Buyers in full: the list, delivery addresses, and who was put together with whom. */
import { type Insertable, type RawBuilder, sql, type SqlBool } from 'kysely';
import { folded } from '../../domain/folding.ts';
import type { ReadDb, WriteDb } from '../db.ts';
import type { BuyerAddressesTable } from '../schema-selling.ts';
import { literalPattern } from './like.ts';

interface BuyerFilter {
  readonly text: string;
  readonly includeArchived: boolean;
}

/** What a sale brought in together, whichever way the place counts its tax. */
const charged = sql<number>`s.price_minor + s.shipping_minor + case s.tax_inclusive when 1 then 0 else s.tax_minor end`;

/** Asked for each buyer a list shows, by the index of their sales: a page of few does not add up the sales of all. */
const ofSales = <T>(what: RawBuilder<T>) =>
  sql<T>`(select ${what} from sales s where s.buyer_id = p.id and s.taken_back_on is null)`;

/** Who supports on a day, with the name of the level. */
const supportOn = (db: ReadDb, day: string) =>
  db.q
    .selectFrom('supporter_spans as z')
    .innerJoin('supporter_levels as l', 'l.id', 'z.level_id')
    .where(sql<boolean>`(z.from_on is null or z.from_on <= ${day})`)
    .where(sql<boolean>`(z.until_on is null or z.until_on > ${day})`)
    .select(['z.buyer_id', 'l.name as level']);

const withFigures = (db: ReadDb, today: string) =>
  db.q
    .selectFrom('buyers as p')
    .leftJoin(supportOn(db, today).as('v'), (join) => join.onRef('v.buyer_id', '=', 'p.id'))
    .selectAll('p')
    .select([
      ofSales(sql<string | null>`max(s.on_date)`).as('last_on'),
      ofSales(sql<number>`count(*)`).as('bought'),
      ofSales(sql<number>`coalesce(sum(${charged}), 0)`).as('spent'),
      sql<string>`coalesce(v.level, '')`.as('level'),
    ]);

/** True where the text stands in the words, whatever its case and accents. */
const foldedIn = (words: RawBuilder<unknown>, text: string): RawBuilder<SqlBool> =>
  sql<SqlBool>`folded(${words}) like ${`%${literalPattern(folded(text))}%`} escape '\\'`;

const matching = ({ text, includeArchived }: BuyerFilter): RawBuilder<boolean> => {
  const words = sql`p.name || ' ' || p.email || ' ' || p.phone || ' ' || p.address || ' ' || p.city || ' ' ||
    p.region || ' ' || p.postcode || ' ' || p.note`;
  const found = folded(text) === '' ? sql<boolean>`1` : sql<boolean>`${foldedIn(words, text)}`;
  const shown = includeArchived ? sql`1` : sql`p.archived = 0`;
  return sql<boolean>`(p.merged_into_id is null and ${shown} and ${found})`;
};

/** Buyers by name, with what they bought and at which level they support. */
export const buyerPageStatement = (
  db: ReadDb,
  filter: BuyerFilter,
  page: { readonly limit: number; readonly offset: number; readonly today: string },
) =>
  withFigures(db, page.today)
    .where(matching(filter))
    .orderBy(sql`p.name collate nocase`)
    .orderBy('p.id')
    .limit(page.limit)
    .offset(page.offset);

export const listBuyers = (...args: Parameters<typeof buyerPageStatement>) =>
  args[0].all(buyerPageStatement(...args));
export type BuyerListRecord = ReturnType<typeof listBuyers>[number];

/** How many buyers match. */
export const countBuyers = (db: ReadDb, filter: BuyerFilter): number =>
  db.one(
    db.q
      .selectFrom('buyers as p')
      .where(matching(filter))
      .select((e) => e.fn.countAll<number>().as('n')),
  )?.n ?? 0;

/** One buyer with what they bought, by the id of the entry that was kept. */
export const buyerWithFigures = (db: ReadDb, id: string, today: string): BuyerListRecord | undefined =>
  db.one(withFigures(db, today).where('p.id', '=', id));

/** Entries that were put together with a buyer. */
export const mergedInto = (db: ReadDb, buyerId: string) =>
  db.all(
    db.q
      .selectFrom('buyers')
      .select(['id', 'name'])
      .where('merged_into_id', '=', buyerId)
      .orderBy('name')
      .orderBy('id'),
  );

/** One key for two entries, whichever is named first. */
export const pairKey = (a: string, b: string): string => (a < b ? `${a} ${b}` : `${b} ${a}`);

/** Pairs of entries that look like one person and are two. */
export const separatePairs = (db: ReadDb): ReadonlySet<string> =>
  new Set(
    db
      .all(db.q.selectFrom('separate_buyers').selectAll())
      .map(({ one_id, other_id }) => pairKey(one_id, other_id)),
  );

/** Notes that two entries are two persons; saying it again changes nothing. */
export function insertSeparatePair(db: WriteDb, a: string, b: string): void {
  const [one_id = '', other_id = ''] = [a, b].toSorted((x, y) => (x < y ? -1 : 1));
  db.run(
    db.q
      .insertInto('separate_buyers')
      .values({ one_id, other_id })
      .onConflict((same) => same.doNothing()),
  );
}

/** A buyer's delivery addresses, those in use first. */
export const addressesOf = (db: ReadDb, buyerId: string) =>
  db.all(
    db.q
      .selectFrom('buyer_addresses')
      .selectAll()
      .where('buyer_id', '=', buyerId)
      .orderBy('archived')
      .orderBy('label')
      .orderBy('id'),
  );
export type AddressRecord = ReturnType<typeof addressesOf>[number];

/** Every delivery address in use. */
export const allAddresses = (db: ReadDb): AddressRecord[] =>
  db.all(
    db.q.selectFrom('buyer_addresses').selectAll().where('archived', '=', 0).orderBy('label').orderBy('id'),
  );

/** One delivery address. */
export const addressRecord = (db: ReadDb, id: string): AddressRecord | undefined =>
  db.one(db.q.selectFrom('buyer_addresses').selectAll().where('id', '=', id));

export const insertAddress = (db: WriteDb, row: Insertable<BuyerAddressesTable>): number =>
  db.run(db.q.insertInto('buyer_addresses').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateAddress = (db: WriteDb, { id, ...row }: Insertable<BuyerAddressesTable>): number =>
  db.run(db.q.updateTable('buyer_addresses').set(row).where('id', '=', id));

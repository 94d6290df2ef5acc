/** Reading and writing what is done to knives after they were sold. */
import { type Insertable, sql, type Updateable } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { ServicesTable } from '../schema-selling.ts';
import { contains } from './like.ts';

export interface ServiceFilter {
  readonly id?: string;
  readonly text?: string;
  /** Only those not sent back yet. */
  readonly here?: boolean;
  readonly buildId?: string | undefined;
  readonly buyerId?: string | undefined;
}

/** The invoice of a service that still stands: not taken back whole. */
const standing = (column: 'id' | 'number') =>
  sql<string | null>`(select i.${sql.ref(column)} from invoices i
    where i.service_id = s.id and i.kind = 'service'
      and i.total_minor + coalesce((select sum(c.total_minor) from invoices c where c.credits_id = i.id), 0) > 0
    order by i.issued_on desc, i.series_no desc limit 1)`;

function matching(db: ReadDb, filter: ServiceFilter) {
  let found = db.q
    .selectFrom('services as s')
    .leftJoin('builds as b', 'b.id', 's.build_id')
    .leftJoin('models as m', 'm.id', 'b.model_id')
    .leftJoin('buyers as p', 'p.id', 's.buyer_id');
  if (filter.id !== undefined) found = found.where('s.id', '=', filter.id);
  if (filter.buildId !== undefined) found = found.where('s.build_id', '=', filter.buildId);
  if (filter.buyerId !== undefined) found = found.where('s.buyer_id', '=', filter.buyerId);
  if (filter.here === true) found = found.where('s.sent_on', 'is', null).where('s.cancelled_on', 'is', null);
  if (filter.text !== undefined && filter.text !== '') {
    const words = sql`coalesce(b.serial, '') || ' ' || coalesce(b.title, '') || ' ' || coalesce(m.name, '') || ' ' ||
      s.knife || ' ' || coalesce(p.name, '') || ' ' || s.note`;
    found = found.where(sql<boolean>`${contains(words, filter.text)}`);
  }
  return found;
}

/** Services, the latest received first, with the knife, the person and the invoice that stands. */
export const serviceRows = (
  db: ReadDb,
  filter: ServiceFilter,
  page: { readonly limit: number; readonly offset: number } = { limit: -1, offset: 0 },
) =>
  db.all(
    matching(db, filter)
      .selectAll('s')
      .select(['b.serial', 'b.title', 'm.name as model_name', 'p.name as buyer_name'])
      .select([standing('id').as('invoice_id'), standing('number').as('invoice_number')])
      .orderBy('s.received_on', 'desc')
      .orderBy('s.id', 'desc')
      .limit(page.limit)
      .offset(page.offset),
  );
export type ServiceRecord = ReturnType<typeof serviceRows>[number];

/** How many services match. */
export const countServices = (db: ReadDb, filter: ServiceFilter): number =>
  db.one(matching(db, filter).select((e) => e.fn.countAll<number>().as('n')))?.n ?? 0;

/** One service. */
export const serviceRecord = (db: ReadDb, id: string): ServiceRecord | undefined =>
  serviceRows(db, { id })[0];

/** What was asked last for a kind of service, free ones left out. */
export const lastServicePrice = (db: ReadDb, kind: string): number | undefined =>
  db.one(
    db.q
      .selectFrom('services')
      .select('price_minor')
      .where('kind', '=', kind)
      .where('price_minor', '>', 0)
      .where('cancelled_on', 'is', null)
      .orderBy('received_on', 'desc')
      .orderBy('id', 'desc')
      .limit(1),
  )?.price_minor;

/** The sale of a knife that stands: whom it went to, and when. */
export const standingSale = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('sales')
      .select(['id', 'buyer_id', 'on_date'])
      .where('build_id', '=', buildId)
      .where('taken_back_on', 'is', null)
      .orderBy('on_date', 'desc')
      .limit(1),
  );

/** For how many months the first sharpening is free, where the maker said it. */
export const freeMonthsSetting = (db: ReadDb): number | undefined =>
  db.one(db.q.selectFrom('service_settings').select('free_months'))?.free_months;

/** Writes it over. */
export function writeFreeMonths(db: WriteDb, free_months: number): void {
  db.run(db.q.deleteFrom('service_settings'));
  db.run(db.q.insertInto('service_settings').values({ id: 1, free_months }));
}

/** Enters a service. */
export const insertService = (db: WriteDb, row: Insertable<ServicesTable>): number =>
  db.run(db.q.insertInto('services').values(row));

/** Changes a service. @returns how many rows changed */
export const updateService = (db: WriteDb, id: string, row: Updateable<ServicesTable>): number =>
  db.run(db.q.updateTable('services').set(row).where('id', '=', id));

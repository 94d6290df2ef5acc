/** Reading and writing releases: their knives, their log, and who belongs to the early group. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { FairnessLogTable, ReleaseKnivesTable, ReleasesTable } from '../schema-selling.ts';
import { amongIds } from './like.ts';

/** How a release is called where space is short, e.g. "R2". */
export const releaseTagOf = (number: number): string => `R${String(number)}`;

export type ReleaseRecord = ReleasesTable;

/** Every release, the newest on top. */
export const releaseRows = (db: ReadDb): ReleaseRecord[] =>
  db.all(db.q.selectFrom('releases').selectAll().orderBy('early_from', 'desc').orderBy('number', 'desc'));

/** One release. */
export const releaseRow = (db: ReadDb, id: string): ReleaseRecord | undefined =>
  db.one(db.q.selectFrom('releases').selectAll().where('id', '=', id));

/** The number the next release gets. */
export const nextReleaseNumber = (db: ReadDb): number =>
  (db.one(db.q.selectFrom('releases').select(({ fn }) => fn.max('number').as('last')))?.last ?? 0) + 1;

export const insertRelease = (db: WriteDb, row: ReleasesTable): number =>
  db.run(db.q.insertInto('releases').values(row));

export const updateRelease = (
  db: WriteDb,
  id: string,
  columns: Partial<Omit<ReleasesTable, 'id' | 'number'>>,
): number => db.run(db.q.updateTable('releases').set(columns).where('id', '=', id));

/** Knives of releases, in the order shown, with what the knife is now and its sale in the release. */
export const releaseKnifeRows = (db: ReadDb, releaseIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('release_knives as k')
      .innerJoin('builds as b', 'b.id', 'k.build_id')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .leftJoin('sales as s', (join) =>
        join
          .onRef('s.build_id', '=', 'k.build_id')
          .onRef('s.release_id', '=', 'k.release_id')
          .on('s.taken_back_on', 'is', null),
      )
      .leftJoin('buyers as p', 'p.id', 's.buyer_id')
      .selectAll('k')
      .select([
        'b.serial',
        'b.title',
        'b.state as build_state',
        'b.flaw',
        'b.model_id',
        'm.name as model_name',
        's.id as sale_id',
        's.buyer_id',
        's.price_minor as sold_minor',
        'p.name as buyer_name',
      ])
      .where(amongIds(sql.ref('k.release_id'), releaseIds))
      .orderBy('k.release_id')
      .orderBy('k.position'),
  );
export type ReleaseKnifeRecord = ReturnType<typeof releaseKnifeRows>[number];

/** Puts the knives of a release in the place of those it had. */
export function replaceKnives(db: WriteDb, releaseId: string, knives: readonly ReleaseKnivesTable[]): void {
  db.run(db.q.deleteFrom('release_knives').where('release_id', '=', releaseId));
  for (const knife of knives) db.run(db.q.insertInto('release_knives').values(knife));
}

export const updateReleaseKnife = (
  db: WriteDb,
  releaseId: string,
  buildId: string,
  columns: Partial<Pick<ReleaseKnivesTable, 'price_minor' | 'shipping_minor' | 'words' | 'withdrawn_on'>>,
): number =>
  db.run(
    db.q
      .updateTable('release_knives')
      .set(columns)
      .where('release_id', '=', releaseId)
      .where('build_id', '=', buildId),
  );

/** The release that is set and still holds this knife, if any. */
export const releaseOfBuild = (db: ReadDb, buildId: string): ReleaseRecord | undefined =>
  db.one(
    db.q
      .selectFrom('release_knives as k')
      .innerJoin('releases as r', 'r.id', 'k.release_id')
      .selectAll('r')
      .where('k.build_id', '=', buildId)
      .where('k.withdrawn_on', 'is', null)
      .where('r.state', '=', 'set')
      .orderBy('r.number', 'desc')
      .limit(1),
  );

/** Price and shipping a knife is shown at in a release that stands. */
export const askedFor = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('release_knives as k')
      .innerJoin('releases as r', 'r.id', 'k.release_id')
      .select(['k.price_minor as priceMinor', 'k.shipping_minor as shippingMinor'])
      .where('k.build_id', '=', buildId)
      .where('k.withdrawn_on', 'is', null)
      .where('r.state', '=', 'set')
      .orderBy('r.number', 'desc')
      .limit(1),
  );

/** The last release, of any state but dropped, this knife was shown in. */
export const lastReleaseOfBuild = (db: ReadDb, buildId: string): ReleaseRecord | undefined =>
  db.one(
    db.q
      .selectFrom('release_knives as k')
      .innerJoin('releases as r', 'r.id', 'k.release_id')
      .selectAll('r')
      .where('k.build_id', '=', buildId)
      .where('k.withdrawn_on', 'is', null)
      .where('r.state', '!=', 'dropped')
      .orderBy('r.number', 'desc')
      .limit(1),
  );

/** Adds a line to the fairness log. */
export const insertLogLine = (db: WriteDb, row: Insertable<FairnessLogTable>): number =>
  db.run(db.q.insertInto('fairness_log').values(row));

/** The log of a release, oldest first. */
export const logRows = (db: ReadDb, releaseId: string) =>
  db.all(
    db.q
      .selectFrom('fairness_log as l')
      .leftJoin('builds as b', 'b.id', 'l.build_id')
      .leftJoin('buyers as p', 'p.id', 'l.buyer_id')
      .selectAll('l')
      .select(['b.serial', 'p.name as buyer_name'])
      .where('l.release_id', '=', releaseId)
      .orderBy('l.seq'),
  );

/** Supporters on a day, each at the highest level held then. @param buyerId only this person */
export const supportersOn = (db: ReadDb, day: string, buyerId?: string) => {
  let query = db.q
    .selectFrom('supporter_spans as s')
    .innerJoin('supporter_levels as l', 'l.id', 's.level_id')
    .innerJoin('buyers as p', 'p.id', 's.buyer_id')
    .where((eb) => eb.or([eb('s.from_on', 'is', null), eb('s.from_on', '<=', day)]))
    .where((eb) => eb.or([eb('s.until_on', 'is', null), eb('s.until_on', '>', day)]))
    .where('p.erased_on', 'is', null)
    .where('p.merged_into_id', 'is', null);
  if (buyerId !== undefined) query = query.where('s.buyer_id', '=', buyerId);
  return db.all(
    query
      .groupBy('p.id')
      // SQLite takes the level's name from the row that holds the greatest rank.
      .select(({ fn }) => ['p.id', 'p.name', 'p.email', 'l.name as level', fn.max('l.rank').as('rank')])
      .orderBy(sql`p.name collate nocase`)
      .orderBy('p.id'),
  );
};

/** Everyone in the books who was not forgotten, for a draw open to all. */
export const everyone = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('buyers')
      .select(['id', 'name', 'email', sql<string>`''`.as('level'), sql<number>`0`.as('rank')])
      .where('erased_on', 'is', null)
      .where('merged_into_id', 'is', null)
      .where('archived', '=', 0)
      .orderBy(sql`name collate nocase`)
      .orderBy('id'),
  );

/** Supporter levels, the lowest first. */
export const levelRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('supporter_levels').selectAll().orderBy('rank').orderBy('name'));

/** A buyer as releases ask for one. */
export const personRow = (db: ReadDb, id: string) =>
  db.one(
    db.q
      .selectFrom('buyers')
      .select([
        'id',
        'name',
        'email',
        'address',
        'city',
        'postcode',
        'country',
        'erased_on',
        'merged_into_id',
      ])
      .where('id', '=', id),
  );

/** Finished knives nobody bought, with the list price of a day and what was last charged for sending one of the model. */
export const candidateRows = (db: ReadDb, day: string) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .leftJoin('order_builds as o', (join) =>
        join.onRef('o.build_id', '=', 'b.id').on('o.until_on', 'is', null),
      )
      .leftJoin('orders as w', 'w.id', 'o.order_id')
      .select(['b.id', 'b.serial', 'b.title', 'b.finished_on', 'b.flaw', 'm.name as model_name'])
      .select(['w.number as order_number'])
      .select([
        sql<
          number | null
        >`(SELECT price_minor FROM model_prices p WHERE p.model_id = b.model_id AND p.from_date <= ${day}
          ORDER BY p.from_date DESC LIMIT 1)`.as('list_minor'),
        sql<number | null>`(SELECT s.shipping_minor FROM sales s JOIN builds x ON x.id = s.build_id
          WHERE x.model_id = b.model_id AND s.abroad = 0 ORDER BY s.on_date DESC, s.id LIMIT 1)`.as(
          'shipping_minor',
        ),
      ])
      .where('b.state', '=', 'finished')
      .orderBy('b.number'),
  );

/** The order a knife is promised to, if any. */
export const openOrderOf = (db: ReadDb, buildId: string) =>
  db.one(
    db.q
      .selectFrom('order_builds as o')
      .innerJoin('orders as w', 'w.id', 'o.order_id')
      .select(['w.id', 'w.number'])
      .where('o.build_id', '=', buildId)
      .where('o.until_on', 'is', null),
  );

/** Says of a sale which release it was in. */
export const markSaleReleased = (db: WriteDb, saleId: string, releaseId: string): number =>
  db.run(db.q.updateTable('sales').set({ release_id: releaseId }).where('id', '=', saleId));

/** A sale with what its release asked for the knife. */
export const releasedSale = (db: ReadDb, saleId: string) =>
  db.one(
    db.q
      .selectFrom('sales as s')
      .leftJoin('release_knives as k', (join) =>
        join.onRef('k.release_id', '=', 's.release_id').onRef('k.build_id', '=', 's.build_id'),
      )
      .select(['s.id', 's.release_id', 's.build_id', 's.buyer_id', 's.price_minor'])
      .select('k.price_minor as asked_minor')
      .where('s.id', '=', saleId),
  );

/** Steel, handle and sheath goods in knives, in the order they went in; what was put back does not count. */
export const goodsInKnives = (db: ReadDb, buildIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('movements as m')
      .leftJoin('movements as r', 'r.reverses_id', 'm.id')
      .innerJoin('lots as l', 'l.id', 'm.lot_id')
      .innerJoin('items as i', 'i.id', 'l.item_id')
      .select(['m.build_id', 'i.name', 'i.kind'])
      .where(amongIds(sql.ref('m.build_id'), buildIds))
      .where('m.kind', '=', 'draw')
      .where('r.id', 'is', null)
      .where('i.kind', 'in', ['steel', 'handle', 'sheath'])
      // Thread and snaps from a mixed lot tell a buyer nothing.
      .where('i.form', '!=', 'worth')
      .orderBy('m.seq'),
  );

/** What the gates found of hardness, edge and weight, oldest first; voided checks are left out. */
export const checksForPreview = (db: ReadDb, buildIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('checks')
      .select(['id', 'build_id', 'measure', 'scale'])
      .where(amongIds(sql.ref('build_id'), buildIds))
      .where('measure', 'in', ['hardness', 'behindEdge', 'weight'])
      .where('voided_reason', 'is', null)
      .orderBy('on_date')
      .orderBy('seq'),
  );

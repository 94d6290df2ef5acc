/** Who supports the workshop, at which level, since when. */
import { type Insertable, sql } from 'kysely';
import type { SupportSpan } from '../../domain/support.ts';
import type { ReadDb, WriteDb } from '../db.ts';
import type { SupporterLevelsTable } from '../schema-selling.ts';

/** Levels, the lowest rank first, with how many support at each on a day. */
export const supporterLevels = (db: ReadDb, today: string) =>
  db.all(
    db.q
      .selectFrom('supporter_levels as l')
      .selectAll('l')
      .select(
        sql<number>`(select count(*) from supporter_spans z where z.level_id = l.id
          and (z.from_on is null or z.from_on <= ${today}) and (z.until_on is null or z.until_on > ${today}))`.as(
          'n',
        ),
      )
      .orderBy('l.archived')
      .orderBy('l.rank')
      .orderBy('l.name'),
  );
export type LevelRecord = ReturnType<typeof supporterLevels>[number];

export const insertLevel = (db: WriteDb, row: Insertable<SupporterLevelsTable>): number =>
  db.run(db.q.insertInto('supporter_levels').values(row));

/** @returns how many rows changed: none for an unknown id */
export const updateLevel = (db: WriteDb, { id, ...row }: Insertable<SupporterLevelsTable>): number =>
  db.run(db.q.updateTable('supporter_levels').set(row).where('id', '=', id));

/** Times of support with their level's name, oldest first; of one buyer, or of all. */
export const spanRecords = (db: ReadDb, buyerId?: string) => {
  const all = db.q
    .selectFrom('supporter_spans as z')
    .innerJoin('supporter_levels as l', 'l.id', 'z.level_id')
    .select(['z.id', 'z.buyer_id', 'z.level_id', 'z.from_on', 'z.until_on', 'l.name as level'])
    .orderBy('z.from_on')
    .orderBy('z.id');
  return db.all(buyerId === undefined ? all : all.where('z.buyer_id', '=', buyerId));
};
export type SpanRecord = ReturnType<typeof spanRecords>[number];

/** The buyer of a time of support. */
export const buyerOfSpan = (db: ReadDb, id: string): string | undefined =>
  db.one(db.q.selectFrom('supporter_spans').select('buyer_id').where('id', '=', id))?.buyer_id;

/** True once a time at a level began before a day; its price stands in months gone by from then on. */
export const levelWasUsedBefore = (db: ReadDb, levelId: string, day: string): boolean =>
  db.one(
    db.q
      .selectFrom('supporter_spans')
      .select('id')
      .where('level_id', '=', levelId)
      .where(sql<boolean>`(from_on is null or from_on < ${day})`)
      .limit(1),
  ) !== undefined;

/** Puts a buyer's times of support in the place of those there were. */
export function replaceSpans(db: WriteDb, buyerId: string, spans: readonly SupportSpan[]): void {
  db.run(db.q.deleteFrom('supporter_spans').where('buyer_id', '=', buyerId));
  for (const { id, levelId, from, until } of spans) {
    const row = { id, buyer_id: buyerId, level_id: levelId, from_on: from, until_on: until };
    db.run(db.q.insertInto('supporter_spans').values(row));
  }
}

/** Who supports on a day, by name. */
export const supportersOn = (db: ReadDb, day: string) =>
  db.all(
    db.q
      .selectFrom('supporter_spans as z')
      .innerJoin('supporter_levels as l', 'l.id', 'z.level_id')
      .innerJoin('buyers as p', 'p.id', 'z.buyer_id')
      .where(sql<boolean>`(z.from_on is null or z.from_on <= ${day})`)
      .where(sql<boolean>`(z.until_on is null or z.until_on > ${day})`)
      .select(['z.from_on', 'z.until_on', 'l.id as level_id', 'l.name as level', 'l.per_month_minor'])
      .select(['p.id as buyer_id', 'p.name', 'p.email'])
      .orderBy(sql`p.name collate nocase`)
      .orderBy('p.id'),
  );

/** Reading and writing claims on knives, names in the hat, and draws. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { ClaimsTable, ReleaseDrawsTable, ReleaseEntriesTable } from '../schema-selling.ts';
import { amongIds } from './like.ts';

const claims = (db: ReadDb) =>
  db.q
    .selectFrom('claims as c')
    .innerJoin('builds as b', 'b.id', 'c.build_id')
    .innerJoin('models as m', 'm.id', 'b.model_id')
    .innerJoin('buyers as p', 'p.id', 'c.buyer_id')
    .leftJoin('releases as r', 'r.id', 'c.release_id')
    .selectAll('c')
    .select([
      'b.serial',
      'b.title',
      'm.name as model_name',
      'p.name as buyer_name',
      'r.number as release_number',
    ]);

export type ClaimRecord = ReturnType<typeof claimsOfBuilds>[number];

/** One claim. */
export const claimRow = (db: ReadDb, id: string): ClaimRecord | undefined =>
  db.one(claims(db).where('c.id', '=', id));

/** The claim on a knife that nobody ended; its hour may have passed. */
export const unendedClaim = (db: ReadDb, buildId: string): ClaimRecord | undefined =>
  db.one(claims(db).where('c.build_id', '=', buildId).where('c.ended_at', 'is', null));

/** Claims that run at an instant, the one that ends first on top. */
export const runningClaims = (db: ReadDb, now: string): ClaimRecord[] =>
  db.all(
    claims(db)
      .where('c.ended_at', 'is', null)
      .where('c.until_at', '>', now)
      .orderBy('c.until_at')
      .orderBy('c.id'),
  );

/** Every claim ever made on these knives, oldest first. */
export const claimsOfBuilds = (db: ReadDb, buildIds: readonly string[]) =>
  db.all(
    claims(db)
      .where(amongIds(sql.ref('c.build_id'), buildIds))
      .orderBy('c.from_at')
      .orderBy('c.id'),
  );

/** Claims made in a release, oldest first. */
export const claimsOfRelease = (db: ReadDb, releaseId: string): ClaimRecord[] =>
  db.all(claims(db).where('c.release_id', '=', releaseId).orderBy('c.from_at').orderBy('c.id'));

/** A claim of one person that nobody ended and that runs at an instant, on any knife. */
export const heldBy = (db: ReadDb, buyerId: string, at: string): ClaimRecord | undefined =>
  db.one(
    claims(db)
      .where('c.buyer_id', '=', buyerId)
      .where('c.kind', '=', 'held')
      .where('c.ended_at', 'is', null)
      .where('c.until_at', '>', at)
      .limit(1),
  );

export const insertClaim = (db: WriteDb, row: ClaimsTable): number =>
  db.run(db.q.insertInto('claims').values(row));

export const endClaim = (
  db: WriteDb,
  id: string,
  end: Pick<ClaimsTable, 'ended_at' | 'outcome'> & Partial<Pick<ClaimsTable, 'note'>>,
): number => db.run(db.q.updateTable('claims').set(end).where('id', '=', id));

/** Names in the hat of a release, in the order they came. */
export const entryRows = (db: ReadDb, releaseId: string) =>
  db.all(
    db.q
      .selectFrom('release_entries as e')
      .innerJoin('buyers as p', 'p.id', 'e.buyer_id')
      .leftJoin('builds as b', 'b.id', 'e.build_id')
      .selectAll('e')
      .select(['p.name as buyer_name', 'p.address', 'p.city', 'p.postcode', 'p.country', 'b.serial'])
      .where('e.release_id', '=', releaseId)
      .orderBy('e.number'),
  );
export type EntryRecord = ReturnType<typeof entryRows>[number];

/** One name in the hat. */
export const entryRow = (db: ReadDb, id: string) =>
  db.one(db.q.selectFrom('release_entries').selectAll().where('id', '=', id));

export const insertEntry = (db: WriteDb, row: ReleaseEntriesTable): number =>
  db.run(db.q.insertInto('release_entries').values(row));

export const withdrawEntry = (db: WriteDb, id: string, at: string): number =>
  db.run(db.q.updateTable('release_entries').set({ withdrawn_at: at }).where('id', '=', id));

/** Draws of a release, in the order of its knives. */
export const drawRows = (db: ReadDb, releaseId: string) =>
  db.all(
    db.q
      .selectFrom('release_draws as d')
      .innerJoin('builds as b', 'b.id', 'd.build_id')
      .innerJoin('release_knives as k', (join) =>
        join.onRef('k.release_id', '=', 'd.release_id').onRef('k.build_id', '=', 'd.build_id'),
      )
      .selectAll('d')
      .select('b.serial')
      .where('d.release_id', '=', releaseId)
      .orderBy('k.position'),
  );

export const insertDraw = (db: WriteDb, row: ReleaseDrawsTable): number =>
  db.run(db.q.insertInto('release_draws').values(row));

/** Reading and writing waits: time nobody stands there for. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { WaitsTable } from '../schema-forge.ts';
import { amongIds } from './like.ts';

const waits = (db: ReadDb) =>
  db.q
    .selectFrom('waits as w')
    .leftJoin('makings as k', 'k.id', 'w.making_id')
    .selectAll('w')
    .select('k.title as making_title');

export interface WaitFilter {
  /** Only those that still run or wait to be seen to. */
  readonly open: boolean;
  readonly buildId?: string | undefined;
  /** Instants: only those that run at some time between them. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

/** Waits that match, the one that ends first on top. */
export function waitRows(db: ReadDb, filter: WaitFilter) {
  let wanted = waits(db);
  if (filter.open) wanted = wanted.where('w.done_at', 'is', null).where('w.dropped_at', 'is', null);
  if (filter.buildId !== undefined) {
    const id = filter.buildId;
    wanted = wanted.where(
      sql<boolean>`exists (select 1 from wait_builds x where x.wait_id = w.id and x.build_id = ${id})`,
    );
  }
  if (filter.to !== undefined) wanted = wanted.where('w.started_at', '<=', filter.to);
  if (filter.from !== undefined) {
    wanted = wanted.where(sql`coalesce(w.done_at, w.dropped_at, '9999')`, '>=', filter.from);
  }
  return db.all(wanted.orderBy('w.ends_at').orderBy('w.id'));
}
export type WaitRecord = ReturnType<typeof waitRows>[number];

/** One wait. */
export const waitRow = (db: ReadDb, id: string): WaitRecord | undefined =>
  db.one(waits(db).where('w.id', '=', id));

/** Knives of several waits, in the order they were planned. */
export const buildsOfWaits = (db: ReadDb, waitIds: readonly string[]) =>
  db.all(
    db.q
      .selectFrom('wait_builds as x')
      .innerJoin('builds as b', 'b.id', 'x.build_id')
      .select(['x.wait_id', 'b.id', 'b.serial', 'b.title'])
      .where(amongIds(sql.ref('x.wait_id'), waitIds))
      .orderBy('b.number'),
  );

/** Adds a wait with its knives. */
export function insertWait(db: WriteDb, row: WaitsTable, buildIds: readonly string[]): void {
  db.run(db.q.insertInto('waits').values(row));
  for (const build_id of buildIds)
    db.run(db.q.insertInto('wait_builds').values({ wait_id: row.id, build_id }));
}

/** Changes what a wait says about its end. */
export const updateWait = (
  db: WriteDb,
  id: string,
  columns: Partial<Pick<WaitsTable, 'ends_at' | 'done_at' | 'dropped_at' | 'note'>>,
): number => db.run(db.q.updateTable('waits').set(columns).where('id', '=', id));

/** Whether a heat is in the books. */
export const heatIsThere = (db: ReadDb, id: string): boolean =>
  db.one(db.q.selectFrom('heats').select('id').where('id', '=', id)) !== undefined;

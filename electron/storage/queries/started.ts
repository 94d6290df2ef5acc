/** Whether a knife was started by a clock and nothing more: so that a wrong touch can be taken back. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';

/**
 * The note of the clock that started a knife, where nothing has gone into the knife since.
 * @param at instant that clock started
 * @param begins how such a note begins
 */
export const startedByClock = (db: ReadDb, buildId: string, at: string, begins: string): string | undefined =>
  db.one(
    db.q
      .selectFrom('build_notes as n')
      .innerJoin('builds as b', 'b.id', 'n.build_id')
      .select('n.id')
      .where('b.id', '=', buildId)
      .where('b.state', '=', 'inWork')
      .where('n.at', '=', at)
      .where(sql<boolean>`substr(n.text, 1, ${begins.length}) = ${begins}`)
      .where(sql<boolean>`not exists (select 1 from session_shares x where x.build_id = b.id)`)
      .where(sql<boolean>`not exists (select 1 from movements x where x.build_id = b.id)`)
      .where(sql<boolean>`not exists (select 1 from charges x where x.build_id = b.id)`)
      .where(
        sql<boolean>`not exists (select 1 from build_stages x where x.build_id = b.id and x.done_on is not null)`,
      )
      .where(
        sql<boolean>`not exists (select 1 from running_clocks c, json_each(c.shares) x where x.value ->> 'id' = b.id)`,
      ),
  )?.id;

/** Makes a knife planned again and takes the note of its start away. */
export function takeStartBack(db: WriteDb, buildId: string, noteId: string): void {
  db.run(db.q.deleteFrom('build_notes').where('id', '=', noteId));
  db.run(db.q.updateTable('builds').set({ state: 'planned', started_on: null }).where('id', '=', buildId));
}

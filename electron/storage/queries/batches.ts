/** Knives made together that are still open. */
import { sql } from 'kysely';
import type { ReadDb } from '../db.ts';

/** Open knives that belong to a batch, with the last day each was worked on; batches worked on last come first. */
export const openBatchKnives = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .where('b.batch', '!=', '')
      .where('b.state', 'in', ['planned', 'inWork'])
      .select(['b.id', 'b.serial', 'b.title', 'b.model_id', 'm.code as model_code', 'm.name as model_name'])
      .select(['b.state', 'b.method', 'b.batch', 'b.planned_on', 'b.started_on', 'b.finished_on'])
      .select(['b.minutes', 'b.cost_micro', 'b.number'])
      .select(
        sql<string>`coalesce((select max(s.on_date) from session_shares h join sessions s on s.id = h.session_id
          where h.build_id = b.id and s.current = 1 and s.cancelled = 0), b.started_on, '')`.as('worked_on'),
      )
      .orderBy('b.number'),
  );
export type BatchKnife = ReturnType<typeof openBatchKnives>[number];

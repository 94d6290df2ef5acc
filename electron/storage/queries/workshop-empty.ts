/** Whether anything was entered in these books. */
import type { ReadDb } from '../db.ts';

/** How many entries the history holds beside setting up the workshop and its papers. */
export const entriesBeyondSetUp = (db: ReadDb): number =>
  db.one(
    db.q
      .selectFrom('journal')
      .select(({ fn }) => fn.countAll<number>().as('n'))
      .where('command', 'not like', 'workshop.%')
      .where('command', 'not like', 'papers.%'),
  )?.n ?? 0;

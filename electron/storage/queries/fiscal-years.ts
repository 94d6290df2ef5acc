/** How fiscal years begin, and from when to when there is anything to count. */
import { type Insertable, sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { FiscalRulesTable } from '../schema-year.ts';

/** Rules in the order of their days. */
export const fiscalRuleRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('fiscal_rules').selectAll().orderBy('from_on'));

/** Puts a rule in, or in the place of the one of its day. */
export const putFiscalRule = (db: WriteDb, row: Insertable<FiscalRulesTable>): number =>
  db.run(
    db.q
      .insertInto('fiscal_rules')
      .values(row)
      .onConflict((clash) =>
        clash.column('from_on').doUpdateSet({ kind: row.kind, month: row.month, day: row.day }),
      ),
  );

/** @returns how many rows went: none for an unknown day */
export const dropFiscalRule = (db: WriteDb, fromOn: string): number =>
  db.run(db.q.deleteFrom('fiscal_rules').where('from_on', '=', fromOn));

/** First and last day of anything bought, worked, sold, paid or spent; null in empty books. */
export const bookedDays = (
  db: ReadDb,
): { readonly first: string | null; readonly last: string | null } | undefined =>
  db.one(
    // One at a time, each takes a step along its index; both at once would walk through all of it.
    db.q.selectNoFrom([
      sql<string | null>`(SELECT min(day) FROM (SELECT (SELECT min(on_date) FROM movements) AS day
        UNION ALL SELECT (SELECT min(on_date) FROM sessions WHERE current = 1 AND cancelled = 0)
        UNION ALL SELECT (SELECT min(on_date) FROM sales) UNION ALL SELECT (SELECT min(cost_on) FROM expenses)
        UNION ALL SELECT (SELECT min(earned_on) FROM incomes)))`.as('first'),
      sql<string | null>`(SELECT max(day) FROM (SELECT (SELECT max(on_date) FROM movements) AS day
        UNION ALL SELECT (SELECT max(on_date) FROM sessions WHERE current = 1 AND cancelled = 0)
        UNION ALL SELECT (SELECT max(on_date) FROM sales) UNION ALL SELECT (SELECT max(cost_on) FROM expenses)
        UNION ALL SELECT (SELECT max(earned_on) FROM incomes)))`.as('last'),
    ]),
  );

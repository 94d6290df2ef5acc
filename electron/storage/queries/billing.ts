/** Drafts, reminders, what is owed on a day, and what stands between the workshop and one buyer. */
import { sql } from 'kysely';
import type { ReadDb, WriteDb } from '../db.ts';
import type { InvoiceDraftsTable, RemindersTable } from '../schema-selling.ts';

/** Drafts with the name of their buyer, last changed first. */
export const draftRows = (db: ReadDb) =>
  db.all(
    db.q
      .selectFrom('invoice_drafts as d')
      .innerJoin('buyers as p', 'p.id', 'd.buyer_id')
      .selectAll('d')
      .select('p.name as buyer_name')
      .orderBy('d.changed_at', 'desc')
      .orderBy('d.id'),
  );
export type DraftRecord = ReturnType<typeof draftRows>[number];

/** One draft. */
export const draftRow = (db: ReadDb, id: string): DraftRecord | undefined =>
  db.one(
    db.q
      .selectFrom('invoice_drafts as d')
      .innerJoin('buyers as p', 'p.id', 'd.buyer_id')
      .selectAll('d')
      .select('p.name as buyer_name')
      .where('d.id', '=', id),
  );

/** Writes a draft in the place of the one before. */
export function putDraft(db: WriteDb, row: InvoiceDraftsTable): void {
  db.run(db.q.deleteFrom('invoice_drafts').where('id', '=', row.id));
  db.run(db.q.insertInto('invoice_drafts').values(row));
}

/** Throws a draft away. @returns how many there were */
export const dropDraft = (db: WriteDb, id: string): number =>
  db.run(db.q.deleteFrom('invoice_drafts').where('id', '=', id));

/** Reminders of an invoice in their order. */
export const remindersOf = (db: ReadDb, invoiceId: string): RemindersTable[] =>
  db.all(db.q.selectFrom('reminders').selectAll().where('invoice_id', '=', invoiceId).orderBy('nth'));

/** One reminder. */
export const reminderRow = (db: ReadDb, id: string): RemindersTable | undefined =>
  db.one(db.q.selectFrom('reminders').selectAll().where('id', '=', id));

/** Keeps a reminder. */
export const insertReminder = (db: WriteDb, row: RemindersTable): number =>
  db.run(db.q.insertInto('reminders').values(row));

/**
 * Invoices that asked for money, or had money to give back, at the end of a day; the latest due first.
 * Credits and payments of later days do not count yet.
 */
export const owedOn = (db: ReadDb, day: string) => {
  const paid = sql`coalesce((select sum(y.amount_minor) from payments y where y.invoice_id = i.id and y.on_date <= ${day}), 0)`;
  const back = sql`coalesce((select -sum(c.total_minor) from invoices c where c.credits_id = i.id and c.issued_on <= ${day}), 0)`;
  const open = sql<number>`(i.total_minor - i.prepaid_minor - ${back} - ${paid})`;
  return db.all(
    db.q
      .selectFrom('invoices as i')
      .select(['i.id', 'i.number', 'i.kind', 'i.buyer_id', 'i.buyer_name', 'i.issued_on', 'i.due_on'])
      .select(open.as('open_minor'))
      .select(
        sql<number>`(select count(*) from reminders r where r.invoice_id = i.id and r.on_date <= ${day})`.as(
          'reminders',
        ),
      )
      .where('i.kind', '<>', 'credit')
      .where('i.issued_on', '<=', day)
      .where(sql<boolean>`${open} <> 0`)
      .orderBy('i.due_on')
      .orderBy('i.number'),
  );
};
export type OwedRecord = ReturnType<typeof owedOn>[number];

/** The buyer and those found to be the same person. */
const same = (buyerId: string) =>
  sql<boolean>`i.buyer_id in (select id from buyers where id = ${buyerId} or merged_into_id = ${buyerId})`;

/** Everything that changed what a buyer owes up to a day, oldest first: invoices and credits, then money of that day. */
export const accountOf = (db: ReadDb, buyerId: string, to: string) => {
  const papers = db.q
    .selectFrom('invoices as i')
    .where(same(buyerId))
    .where('i.issued_on', '<=', to)
    .select(['i.issued_on as on', 'i.id as invoice_id', 'i.number', 'i.kind'])
    .select([
      sql<number>`i.total_minor - i.prepaid_minor`.as('amount'),
      sql<string>`''`.as('method'),
      sql<string>`''`.as('reason'),
      sql<string | null>`null`.as('reverses_id'),
      sql<number>`0`.as('rank'),
      sql<number>`i.series_no`.as('nth'),
    ]);
  const money = db.q
    .selectFrom('payments as y')
    .innerJoin('invoices as i', 'i.id', 'y.invoice_id')
    .where(same(buyerId))
    .where('y.on_date', '<=', to)
    .select(['y.on_date as on', 'i.id as invoice_id', 'i.number', sql<string>`'payment'`.as('kind')])
    .select([
      sql<number>`-y.amount_minor`.as('amount'),
      'y.method',
      'y.reason',
      'y.reverses_id',
      sql<number>`1`.as('rank'),
      'y.seq as nth',
    ]);
  return db
    .all(papers.unionAll(money))
    .toSorted((a, b) => (a.on === b.on ? a.rank - b.rank || a.nth - b.nth : a.on < b.on ? -1 : 1));
};
export type AccountRecord = ReturnType<typeof accountOf>[number];

/** Patterns of numbers that do not run with the plain invoices. */
export const patternRows = (db: ReadDb) => db.all(db.q.selectFrom('number_patterns').selectAll());

/** Sets the pattern of a kind of paper; an empty one lets it run with the plain invoices again. */
export function putPattern(db: WriteDb, kind: string, pattern: string): void {
  db.run(db.q.deleteFrom('number_patterns').where('kind', '=', kind));
  if (pattern !== '') db.run(db.q.insertInto('number_patterns').values({ kind, pattern }));
}

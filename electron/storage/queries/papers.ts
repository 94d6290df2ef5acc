/** Queries of how papers look and speak. */
import type { ReadDb, WriteDb } from '../db.ts';
import type { StructuredInvoicesTable } from '../schema-selling.ts';
import type { WorkshopTable } from '../schema.ts';
import type { Updateable } from 'kysely';

/** The maker's own texts of every kind and language. */
export const paperTextRows = (db: ReadDb) =>
  db.all(db.q.selectFrom('paper_texts').selectAll().orderBy('kind').orderBy('language'));

/** One text; undefined where none is written. */
export const paperText = (db: ReadDb, kind: string, language: string): string | undefined =>
  db.one(
    db.q.selectFrom('paper_texts').select('text').where('kind', '=', kind).where('language', '=', language),
  )?.text;

/** Writes a text in the place of the one before; an empty one goes. */
export function putPaperText(db: WriteDb, kind: string, language: string, text: string): void {
  db.run(db.q.deleteFrom('paper_texts').where('kind', '=', kind).where('language', '=', language));
  if (text !== '') db.run(db.q.insertInto('paper_texts').values({ kind, language, text }));
}

/** Changes details of the workshop's papers. */
export const updatePaperDetails = (db: WriteDb, change: Updateable<WorkshopTable>): void => {
  db.run(db.q.updateTable('workshop').set(change).where('id', '=', 1));
};

/** The structured invoice kept for an invoice. */
export const structuredRow = (db: ReadDb, invoiceId: string) =>
  db.one(db.q.selectFrom('structured_invoices').selectAll().where('invoice_id', '=', invoiceId));

/** Keeps a structured invoice. */
export const insertStructured = (db: WriteDb, row: StructuredInvoicesTable): void => {
  db.run(db.q.insertInto('structured_invoices').values(row));
};

/** How a knife of this model is looked after, in the maker's words; empty where none are written. */
export const careOfKnife = (db: ReadDb, buildId: string): string =>
  db.one(
    db.q
      .selectFrom('builds as b')
      .innerJoin('models as m', 'm.id', 'b.model_id')
      .select('m.care')
      .where('b.id', '=', buildId),
  )?.care ?? '';

/** Sales that were taken back, and what was credited of an invoice. */
import type { ReadDb, WriteDb } from '../db.ts';

/** Sales of a knife that were taken back, the latest first, with what was kept and spent on them. */
export const salesTakenBack = (db: ReadDb, buildId: string) =>
  db.all(
    db.q
      .selectFrom('sales')
      .select(['id', 'taken_back_on', 'kept_minor', 'postage_paid_minor', 'fee_minor'])
      .where('build_id', '=', buildId)
      .where('taken_back_on', 'is not', null)
      .orderBy('taken_back_on', 'desc'),
  );

/** Without tax, what is left of an invoice after its credits. */
export const netLeftOf = (db: ReadDb, invoiceId: string): number => {
  const rows = db.all(
    db.q
      .selectFrom('invoices')
      .select('net_minor')
      .where((e) => e.or([e('id', '=', invoiceId), e('credits_id', '=', invoiceId)])),
  );
  return rows.reduce((sum, row) => sum + row.net_minor, 0);
};

/** Of what was credited of an invoice, the tax and the part of lines without tax; above zero. */
export const creditedParts = (db: ReadDb, invoiceId: string) => {
  const credits = db.all(
    db.q.selectFrom('invoices').select(['id', 'tax_minor']).where('credits_id', '=', invoiceId),
  );
  const untaxed = db.all(
    db.q
      .selectFrom('invoice_lines as l')
      .innerJoin('invoices as i', 'i.id', 'l.invoice_id')
      .select('l.net_minor')
      .where('i.credits_id', '=', invoiceId)
      .where('l.tax_rate_ppm', '=', 0),
  );
  return {
    creditedTaxMinor: credits.reduce((sum, row) => sum - row.tax_minor, 0),
    creditedUntaxedMinor: untaxed.reduce((sum, row) => sum - row.net_minor, 0),
  };
};

/** Writes a note on a knife. */
export const insertBuildNote = (
  db: WriteDb,
  row: { readonly id: string; readonly build_id: string; readonly at: string; readonly text: string },
): number => db.run(db.q.insertInto('build_notes').values(row));

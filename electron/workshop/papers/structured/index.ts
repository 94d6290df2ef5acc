/** Structured invoices: made on request, once, and kept byte for byte beside the issued paper. */
import { refused } from '../../../api/errors.ts';
import type { StructuredPaper } from '../../../documents/types.ts';
import type { ReadDb } from '../../../storage/db.ts';
import { insertStructured, structuredRow } from '../../../storage/queries/papers.ts';
import { type InvoiceRecord, linesOf } from '../../../storage/queries/selling-invoices.ts';
import type { QueryContext } from '../../context.ts';
import { fileName, pdfOut } from '../../costs/files.ts';
import { houseOf } from '../../costs/house.ts';
import type { HandlerFor } from '../../handlers.ts';
import { needInvoice } from '../../selling/invoice-rows.ts';
import { invoicePaper } from '../../selling/paper.ts';
import { lookOf } from '../look.ts';
import { ciiTree } from './cii.ts';
import { missingIn } from './missing.ts';
import { type Statement, statementOf } from './statement.ts';

const nameOf = (number: string): string => `${number} structured`;

function creditedBy(db: ReadDb, row: InvoiceRecord) {
  if (row.credits_id === null) return null;
  const credited = needInvoice(db, row.credits_id);
  return { number: credited.number, issuedOn: credited.issued_on, total: credited.total_minor };
}

const statementFor = (db: ReadDb, row: InvoiceRecord): Statement =>
  statementOf({ row, lines: linesOf(db, row.id), credited: creditedBy(db, row) });

/** The paper set again from what was kept, in the words it was issued in. */
function paperAgain(ctx: QueryContext, row: InvoiceRecord, of: Statement): StructuredPaper {
  const credited = creditedBy(ctx.db, row);
  const invoice = invoicePaper(houseOf(ctx.db).shop, row, linesOf(ctx.db, row.id), {
    madeAt: ctx.clock.now(),
    ...(credited === null
      ? {}
      : { creditsNumber: credited.number, partly: credited.total !== -row.total_minor }),
  });
  return { invoice: { ...invoice, look: lookOf(ctx) }, tree: ciiTree(of) };
}

/** How the structured invoice stands. */
export const structuredState: HandlerFor<'papers.structuredState'> = (ctx, { invoiceId }) => {
  const row = needInvoice(ctx.db, invoiceId);
  const kept = structuredRow(ctx.db, invoiceId);
  return {
    madeAt: kept?.made_at ?? null,
    missing: kept === undefined ? missingIn(statementFor(ctx.db, row)) : [],
  };
};

/** The structured invoice; made now if it was never asked for. */
export const structured: HandlerFor<'papers.structured'> = {
  prepare(ctx, { invoiceId }): Promise<Uint8Array | null> {
    const row = needInvoice(ctx.db, invoiceId);
    if (structuredRow(ctx.db, invoiceId) !== undefined) return Promise.resolve(null);
    const of = statementFor(ctx.db, row);
    const missing = missingIn(of);
    if (missing.length > 0)
      throw refused(
        `A structured invoice cannot be made of ${row.number}. ${missing.join(' ')}`,
        'invoiceId',
      );
    return ctx.renderer.structured(paperAgain(ctx, row, of));
  },
  run(ctx, { invoiceId }, prepared) {
    const { number } = needInvoice(ctx.db, invoiceId);
    const kept = structuredRow(ctx.db, invoiceId);
    if (kept !== undefined)
      return pdfOut(nameOf(number), ctx.files.get(kept.document_path, kept.document_sha256));
    const pdf = prepared as Uint8Array;
    const stored = ctx.files.keep(ctx.db, `${fileName(nameOf(number))}.pdf`, pdf);
    insertStructured(ctx.db, {
      invoice_id: invoiceId,
      made_at: ctx.clock.now(),
      document_path: stored.path,
      document_sha256: stored.sha256,
    });
    return pdfOut(nameOf(number), pdf);
  },
};

/** Issuing papers: the PDF is set first, with the number it will carry; then rows and paper are kept together or not at all. */
import { refused } from '../../api/errors.ts';
import { closedThrough } from '../../storage/seal/open-books.ts';
import type { Parsed } from '../../api/contract.ts';
import { insertInvoice } from '../../storage/queries/selling-invoices.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import type { CommandContext } from '../context.ts';
import { fileName } from '../costs/files.ts';
import { houseOf } from '../costs/house.ts';
import { dressed } from '../papers/look.ts';
import type { InvoicePlan } from './compose.ts';
import { nextInvoiceNumber, numberRun } from './number.ts';
import { planInvoice } from './plan.ts';
import { notInFuture } from './sale.ts';
import { needSale } from './sale-rows.ts';

/** An invoice planned and set in type. */
export interface PlannedPaper {
  readonly plan: InvoicePlan;
  readonly pdf: Uint8Array;
}

/** Sets the paper of a plan. Nothing is written yet. */
export const setPaper = async (ctx: CommandContext, plan: InvoicePlan): Promise<PlannedPaper> => ({
  plan,
  pdf: await ctx.renderer.invoice(dressed(ctx, plan.paper)),
});

/**
 * Keeps an issued paper: its rows and, until the file in the documents folder is flushed, its bytes in the books.
 * The number is drawn again inside the transaction; commands run one after another, so it cannot have moved.
 */
export function keepPaper(
  ctx: CommandContext,
  { plan, pdf }: PlannedPaper,
): { readonly invoiceId: string; readonly number: string } {
  const { row, lines } = plan;
  const run = numberRun(ctx.db, row.kind, houseOf(ctx.db).shop.invoice_pattern, 'issuedOn');
  const at = nextInvoiceNumber(ctx.db, run, row.issued_on);
  if (at.number !== row.number || at.seriesNo !== row.series_no) {
    throw refused('Another invoice took this number meanwhile. Issue it again.');
  }
  const stored = ctx.files.keep(ctx.db, `${fileName(row.number)}.pdf`, pdf);
  insertInvoice(ctx.db, { ...row, document_path: stored.path, document_sha256: stored.sha256 }, lines);
  return { invoiceId: row.id, number: row.number };
}

/** Plans and sets the invoice of a sale that is booked already. */
export async function prepareIssue(
  ctx: CommandContext,
  input: Parsed<'selling.issue'>,
): Promise<PlannedPaper> {
  const sale = needSale(ctx.db, input.saleId);
  if (sale.invoice_number !== null)
    throw refused(`This sale has its invoice already: ${sale.invoice_number}.`);
  if (sale.taken_back_on !== null)
    throw refused('This sale was taken back; no invoice can be issued for it.');
  notInFuture(ctx, input.issuedOn, 'issuedOn');
  const through = closedThrough(ctx.db);
  if (through !== undefined && sale.on_date <= through)
    throw refused(
      `${sale.serial} was sold on ${sale.on_date} without an invoice and counts as paid in a year that is closed; an invoice now would take its money and tax out of it. Open that year again first, under Year, Close a year.`,
    );
  const plan = planInvoice(ctx.db, sale, {
    invoiceId: ctx.newId(),
    issuedOn: input.issuedOn,
    dueOn: input.dueOn,
    note: input.note,
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'issuedOn' },
  });
  return setPaper(ctx, plan);
}

/** Plans and sets the invoice that goes with a sale being booked. */
export function preparePaperOf(
  ctx: CommandContext,
  sale: SalesTable,
  terms: { readonly dueOn?: string | undefined; readonly paidBy: string },
): Promise<PlannedPaper> {
  const plan = planInvoice(ctx.db, sale, {
    invoiceId: ctx.newId(),
    issuedOn: sale.on_date,
    ...terms,
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'on' },
  });
  return setPaper(ctx, plan);
}

/** Use-cases of sales and invoices. */
import type { sellingEndpoints } from '../../api/selling.ts';
import { countSales, listSales } from '../../storage/queries/selling.ts';
import { countInvoices, listInvoices } from '../../storage/queries/selling-invoices.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { totalOf } from '../page-total.ts';
import { pdfOut } from '../costs/files.ts';
import type { HandlerFor, Handlers } from '../handlers.ts';
import { refused } from '../../api/errors.ts';
import { credit, prepareCreditOf } from './credit.ts';
import { invoiceDetail, needInvoice, toInvoiceRow } from './invoice-rows.ts';
import { dressed } from '../papers/look.ts';
import { keepPaper, type PlannedPaper, prepareIssue } from './issue.ts';
import { bookPayment, reversePayment } from './payments.ts';
import { planDraft } from './plan.ts';
import { saleFigures } from './sale.ts';
import { setOff, setOffOf } from './set-off.ts';
import { needSale, saleRows } from './sale-rows.ts';
import { admit, bookActuals, type PreparedSale, prepareSale, takePackaging, writeSale } from './sell.ts';

const draftPdf: HandlerFor<'selling.draftPdf'> = async (ctx: QueryContext, { saleId }) => {
  const sale = needSale(ctx.db, saleId);
  if (sale.invoice_number !== null)
    throw refused(`This sale has its invoice already: ${sale.invoice_number}.`);
  const paper = planDraft(ctx.db, sale, {
    invoiceId: '',
    issuedOn: ctx.clock.today(),
    madeAt: ctx.clock.now(),
    fields: { issuedOn: 'saleId' },
  });
  return pdfOut(`Draft invoice ${sale.serial}`, await ctx.renderer.invoice(dressed(ctx, paper)));
};

/** Which use-case answers which call. */
export const sellingHandlers: Pick<Handlers, keyof typeof sellingEndpoints> = {
  'selling.figures': (ctx, input) => saleFigures(ctx, input),
  'selling.sell': {
    prepare: (ctx, input) => prepareSale(ctx, input),
    run: (ctx, input, prepared: PreparedSale) => {
      admit(ctx, prepared.sale, input.ticks);
      // While the knife is still the workshop's: what is sold takes no more stock.
      takePackaging(ctx, input);
      return writeSale(ctx, prepared, input.paidBy);
    },
  },
  'selling.actuals': { run: (ctx, input) => bookActuals(ctx, input) },
  'selling.sales': (ctx, input) => {
    const rows = saleRows(ctx.db, listSales(ctx.db, input, input.limit, input.offset));
    return { rows, total: totalOf(rows, input, () => countSales(ctx.db, input)) };
  },
  'selling.issue': {
    prepare: (ctx, input) => prepareIssue(ctx, input),
    run: (ctx: CommandContext, _input, prepared: PlannedPaper) => keepPaper(ctx, prepared),
  },
  'selling.draftPdf': draftPdf,
  'selling.invoices': (ctx, input) => {
    const today = ctx.clock.today();
    const filter = { text: input.text, state: input.state, today };
    const rows = listInvoices(ctx.db, filter, input.limit, input.offset).map((record) =>
      toInvoiceRow(record, today),
    );
    return { rows, total: totalOf(rows, input, () => countInvoices(ctx.db, filter)) };
  },
  'selling.invoice': (ctx, input) => ({
    ...invoiceDetail(ctx.db, input.id, ctx.clock.today()),
    setOff: setOffOf(ctx.db, needInvoice(ctx.db, input.id)),
  }),
  'selling.invoicePdf': (ctx, input) => {
    const record = needInvoice(ctx.db, input.id);
    return pdfOut(record.number, ctx.files.get(record.document_path, record.document_sha256));
  },
  'selling.pay': { run: (ctx, input) => bookPayment(ctx, input) },
  'selling.reversePayment': { run: (ctx, input) => reversePayment(ctx, input) },
  'selling.setOff': { run: (ctx, input) => setOff(ctx, input) },
  'selling.credit': {
    prepare: (ctx, input) => prepareCreditOf(ctx, input),
    run: (ctx, input, prepared: PlannedPaper) => credit(ctx, input, prepared),
  },
};

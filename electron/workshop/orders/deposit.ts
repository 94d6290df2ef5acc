/** The invoice of a deposit: money of the customer until the knife is theirs. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { addDays } from '../../domain/calendar.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderPaperRows, type OrderRecord, orderTagOf, updateOrder } from '../../storage/queries/orders.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { netOf } from '../costs/net.ts';
import { wordsFor } from '../paper-words/index.ts';
import { needBuyer } from '../selling/buyers.ts';
import { planInvoiceOf } from '../selling/compose.ts';
import { keepPaper, type PlannedPaper, setPaper } from '../selling/issue.ts';
import { bookPayment } from '../selling/payments.ts';
import { oneOf } from '../selling/plan.ts';
import { type TaxColumns, taxColumns } from '../selling/reckon.ts';
import { note } from './history.ts';
import { askedAhead } from './money.ts';
import { agreedTerms } from './policies.ts';
import { needOrder, totalOf } from './rows.ts';
import { demandDay } from './waiting.ts';

/** What a deposit's invoice is made from. */
export interface DepositAsked {
  readonly on: string;
  /** As the tax place counts prices. */
  readonly amountMinor: number;
  readonly dueOn?: string | undefined;
  readonly depositDays: number;
  /** How it was paid in the same step; empty when it was not. */
  readonly paidBy: string;
}

/** Language of an order's papers. */
export const languageOf = (db: ReadDb, order: OrderRecord): string => {
  const { language } = needBuyer(db, order.buyer_id);
  return language === '' ? houseOf(db).shop.language : language;
};

/** Tax on a deposit: now where the place wants it with the deposit, else none until the final invoice. */
function depositTax(db: ReadDb, order: OrderRecord, amountMinor: number): TaxColumns {
  const place = order.tax_place_id === null ? undefined : taxPlaceRow(db, order.tax_place_id);
  if (place === undefined || place.rate_ppm === 0 || place.deposit_tax === 'deposit')
    return taxColumns(db, order.tax_place_id, amountMinor, 0);
  const later = wordsFor(languageOf(db, order)).order.notes.taxLater;
  return { ...taxColumns(db, null, amountMinor, 0), tax_note: later };
}

/** Plans and sets the invoice of a deposit. Nothing is written yet. */
export async function prepareDeposit(
  ctx: CommandContext,
  order: OrderRecord,
  asked: DepositAsked,
): Promise<PlannedPaper> {
  const tax = depositTax(ctx.db, order, asked.amountMinor);
  const net = netOf({ ...tax, price_minor: asked.amountMinor, shipping_minor: 0 });
  const words = wordsFor(languageOf(ctx.db, order));
  const what = order.model_name ?? words.order.lines.knife;
  const line = {
    description: words.invoice.lines.deposit(what),
    detail: words.order.lines.order(orderTagOf(order.number)),
  };
  const plan = planInvoiceOf(
    ctx.db,
    {
      kind: 'deposit',
      saleId: null,
      orderId: order.id,
      serviceId: null,
      buyer: needBuyer(ctx.db, order.buyer_id),
      supplyOn: asked.on,
      tax,
      lines: [oneOf(line, net.priceMinor, { ratePpm: tax.tax_rate_ppm, category: tax.tax_category })],
      taxMinor: tax.tax_minor,
      extraNotes: [],
    },
    {
      invoiceId: ctx.newId(),
      issuedOn: asked.on,
      dueOn: asked.dueOn ?? addDays(asked.on, asked.depositDays),
      paidBy: asked.paidBy,
      madeAt: ctx.clock.now(),
      fields: { issuedOn: 'on' },
    },
  );
  return setPaper(ctx, plan);
}

/** Keeps the invoice of a deposit, with its payment where it was paid at once. */
export function keepDeposit(ctx: CommandContext, order: OrderRecord, paper: PlannedPaper, paidBy: string) {
  const kept = keepPaper(ctx, paper);
  const { total_minor: totalMinor, issued_on: on } = paper.plan.row;
  note(ctx, order.id, {
    what: 'Deposit invoice',
    before: '',
    after: `${kept.number}, ${formatMinor(totalMinor, houseOf(ctx.db).currency)}`,
    on,
  });
  if (paidBy === '' || totalMinor === 0) return kept;
  bookPayment(ctx, {
    invoiceId: kept.invoiceId,
    on,
    amountMinor: totalMinor,
    method: paidBy,
    channelId: order.channel_id,
    abroad: order.abroad === 1,
  });
  return kept;
}

/** @throws FaultError when the deposits together would come to more than the knife */
export function demandBelowPrice(db: ReadDb, order: OrderRecord, amountMinor: number, field: string): void {
  const totalMinor = totalOf(order) ?? 0;
  const before = askedAhead(db, order.tax_place_id, orderPaperRows(db, order.id));
  if (before + amountMinor <= totalMinor) return;
  const { currency } = houseOf(db);
  throw invalid(
    `The knife costs ${formatMinor(totalMinor, currency)}; no more than ${formatMinor(Math.max(0, totalMinor - before), currency)} of it can be asked ahead. Write less.`,
    field,
  );
}

/** Plans the invoice of a deposit on an order agreed before. */
export function prepareFurtherDeposit(
  ctx: CommandContext,
  input: Parsed<'orders.invoiceDeposit'>,
): Promise<PlannedPaper> {
  const order = needOrder(ctx.db, input.id);
  if (order.state !== 'agreed') throw refused('A deposit is asked once the order is agreed. Agree it first.');
  demandDay(ctx, order, input.on);
  demandBelowPrice(ctx.db, order, input.amountMinor, 'amountMinor');
  const depositDays = agreedTerms(order.terms)?.depositDays ?? houseOf(ctx.db).shop.invoice_terms_days;
  return prepareDeposit(ctx, order, { ...input, depositDays });
}

/** Issues the invoice of a deposit on an order agreed before. */
export function invoiceDeposit(
  ctx: CommandContext,
  input: Parsed<'orders.invoiceDeposit'>,
  paper: PlannedPaper,
): { readonly invoiceId: string; readonly invoiceNumber: string } {
  const order = needOrder(ctx.db, input.id);
  const kept = keepDeposit(ctx, order, paper, input.paidBy);
  const asked = askedAhead(ctx.db, order.tax_place_id, orderPaperRows(ctx.db, order.id));
  if (asked > order.deposit_minor) updateOrder(ctx.db, order.id, { deposit_minor: asked });
  return { invoiceId: kept.invoiceId, invoiceNumber: kept.number };
}

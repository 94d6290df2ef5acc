/** Cancelling an agreed order: its deposit is parted by the terms it was agreed by, and the knife is free. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMinor } from '../../domain/money.ts';
import { taxOn } from '../../domain/tax.ts';
import {
  endLink,
  type OrderPaperRecord,
  orderPaperRows,
  type OrderRecord,
  updateOrder,
} from '../../storage/queries/orders.ts';
import { insertPayment } from '../../storage/queries/selling-invoices.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { wordsFor } from '../paper-words/index.ts';
import { needBuyer } from '../selling/buyers.ts';
import { planInvoiceOf } from '../selling/compose.ts';
import { prepareCreditOf } from '../selling/credit.ts';
import { keepPaper, type PlannedPaper, setPaper } from '../selling/issue.ts';
import { bookRefund, MOVED } from '../selling/payments.ts';
import { oneOf } from '../selling/plan.ts';
import { type TaxColumns, taxColumns } from '../selling/reckon.ts';
import { cancelling } from './detail.ts';
import { languageOf } from './deposit.ts';
import { note, noteState } from './history.ts';
import { demandAfterLink } from './link-day.ts';
import { askedOf, demandAfterMoney } from './money.ts';
import { needOrder } from './rows.ts';
import { demandDay } from './waiting.ts';

type Input = Parsed<'orders.cancel'>;

/** What becomes of one deposit invoice. */
interface Parted {
  readonly paper: OrderPaperRecord;
  readonly keptMinor: number;
  /** Paid and not kept. */
  readonly refundMinor: number;
}

export interface PreparedCancel {
  readonly parted: readonly Parted[];
  readonly credits: readonly PlannedPaper[];
  /** Where what is kept is taxed otherwise than the deposit was: its own invoice, to which the kept money moves. */
  readonly keptPaper: PlannedPaper | undefined;
  readonly keptMinor: number;
  readonly keptTaxMinor: number;
}

/** Lays what is kept on the deposits in the order they were paid. */
function part(papers: readonly OrderPaperRecord[], keptMinor: number): readonly Parted[] {
  let left = keptMinor;
  return papers
    .filter((paper) => paper.kind === 'deposit')
    .map((paper) => {
      const kept = Math.min(left, Math.max(0, Math.min(paper.paid_minor, askedOf(paper))));
      left -= kept;
      return { paper, keptMinor: kept, refundMinor: Math.max(0, paper.paid_minor) - kept };
    });
}

/** Tax on what is kept, where the place taxes it: contained in it, because the buyer pays no more. */
function keptTax(ctx: CommandContext, order: OrderRecord, keptMinor: number): TaxColumns {
  const none = taxColumns(ctx.db, null, keptMinor, 0);
  if (order.tax_place_id === null) return none;
  const place = taxPlaceRow(ctx.db, order.tax_place_id);
  if (place?.forfeit_taxed !== 1) return none;
  const rule = taxColumns(ctx.db, order.tax_place_id, keptMinor, 0);
  return { ...rule, tax_inclusive: 1, tax_minor: taxOn(keptMinor, rule.tax_rate_ppm, true) };
}

function planKept(
  ctx: CommandContext,
  order: OrderRecord,
  what: { readonly keptMinor: number; readonly tax: TaxColumns },
  input: Input,
  credits: readonly PlannedPaper[],
) {
  const words = wordsFor(languageOf(ctx.db, order)).order.lines;
  const line = { description: words.kept, detail: words.keptDetail };
  const { tax, keptMinor } = what;
  const rate = { ratePpm: tax.tax_rate_ppm, category: tax.tax_category };
  return planInvoiceOf(
    ctx.db,
    {
      kind: 'deposit',
      saleId: null,
      orderId: order.id,
      serviceId: null,
      buyer: needBuyer(ctx.db, order.buyer_id),
      supplyOn: input.on,
      tax,
      lines: [oneOf(line, keptMinor - tax.tax_minor, rate)],
      taxMinor: tax.tax_minor,
      extraNotes: [],
    },
    {
      invoiceId: ctx.newId(),
      issuedOn: input.on,
      dueOn: input.on,
      note: '',
      madeAt: ctx.clock.now(),
      fields: { issuedOn: 'on' },
      planned: credits.map((paper) => plannedNumber(paper)),
    },
  );
}

const plannedNumber = ({ plan: { row } }: PlannedPaper) => ({
  series: row.series,
  seriesNo: row.series_no,
  number: row.number,
  issuedOn: row.issued_on,
});

function keptOf(ctx: CommandContext, order: OrderRecord, input: Input): number {
  const most = cancelling(ctx.db, order, input.on).keptMinor;
  if (input.keptMinor === undefined) return most;
  if (input.keptMinor > most)
    throw invalid(
      `By the terms agreed no more than ${formatMinor(most, houseOf(ctx.db).currency)} can be kept. Write that or less.`,
      'keptMinor',
    );
  return input.keptMinor;
}

/** Credits of every deposit invoice, in the order they will be kept. */
async function prepareCredits(
  ctx: CommandContext,
  parted: readonly Parted[],
  whole: boolean,
  input: Input,
): Promise<readonly PlannedPaper[]> {
  const credits: PlannedPaper[] = [];
  for (const { paper, keptMinor } of parted) {
    const amountMinor = askedOf(paper) - (whole ? 0 : keptMinor);
    if (amountMinor <= 0) continue;
    credits.push(
      await prepareCreditOf(ctx, {
        invoiceId: paper.id,
        amountMinor,
        on: input.on,
        reason: input.reason,
        planned: credits.map(plannedNumber),
      }),
    );
  }
  return credits;
}

/** Tax left on the deposit invoices once the credits stand. */
const taxLeft = (parted: readonly Parted[], credits: readonly PlannedPaper[]): number =>
  sumOf(parted, ({ paper }) => paper.tax_minor - paper.credited_tax_minor) +
  sumOf(credits, ({ plan }) => plan.row.tax_minor);

/** Checks the cancellation and sets its papers; writes nothing. */
export async function prepareCancel(ctx: CommandContext, input: Input): Promise<PreparedCancel> {
  const order = needOrder(ctx.db, input.id);
  if (order.state !== 'agreed')
    throw refused('Only an agreed order is cancelled. A wish or an offer that came to nothing is closed.');
  demandDay(ctx, order, input.on);
  if (order.agreed_on !== null && input.on < order.agreed_on)
    throw invalid(`It was agreed on ${order.agreed_on}, not before. Change the date.`, 'on');
  demandAfterLink(ctx.db, order.id, input.on);
  const papers = orderPaperRows(ctx.db, order.id);
  demandAfterMoney(papers, input.on, 'the order is cancelled');
  const keptMinor = keptOf(ctx, order, input);
  const parted = part(papers, keptMinor);
  const tax = keptTax(ctx, order, keptMinor);
  const wasTaxed = parted.some(({ paper }) => paper.tax_minor !== 0);
  const anew = keptMinor > 0 && wasTaxed !== tax.tax_minor > 0;
  const credits = await prepareCredits(ctx, parted, anew, input);
  const keptPlan = anew ? planKept(ctx, order, { keptMinor, tax }, input, credits) : undefined;
  return {
    parted,
    credits,
    keptPaper: keptPlan && (await setPaper(ctx, keptPlan)),
    keptMinor,
    keptTaxMinor: anew ? tax.tax_minor : Math.max(0, taxLeft(parted, credits)),
  };
}

const plainPayment = { reference: '', reverses_id: null, fee_minor: 0, channel_id: null };

/** Moves the kept money from the deposits to the invoice that says how it is taxed. */
function moveKept(ctx: CommandContext, prepared: PreparedCancel, kept: PlannedPaper, on: string): void {
  const { id, number } = kept.plan.row;
  const method = MOVED;
  for (const { paper, keptMinor } of prepared.parted) {
    if (keptMinor === 0) continue;
    const to = { ...plainPayment, on_date: on, method };
    insertPayment(ctx.db, {
      ...to,
      id: ctx.newId(),
      invoice_id: paper.id,
      amount_minor: -keptMinor,
      reason: `counted on ${number}`,
    });
    insertPayment(ctx.db, {
      ...to,
      id: ctx.newId(),
      invoice_id: id,
      amount_minor: keptMinor,
      reason: `from ${paper.number}`,
    });
  }
}

function refund(ctx: CommandContext, prepared: PreparedCancel, input: Input): void {
  if (input.refundBy === '') return;
  for (const { paper, refundMinor } of prepared.parted)
    if (refundMinor > 0)
      bookRefund(ctx, {
        invoiceId: paper.id,
        on: input.on,
        amountMinor: refundMinor,
        method: input.refundBy,
        reason: input.reason,
      });
}

/** Writes the credits, the refund and the end of the order. */
export function cancel(ctx: CommandContext, input: Input, prepared: PreparedCancel) {
  const order = needOrder(ctx.db, input.id);
  const { keptMinor, keptTaxMinor } = prepared;
  const credits = prepared.credits.map((paper) => keepPaper(ctx, paper));
  if (prepared.keptPaper !== undefined) {
    keepPaper(ctx, prepared.keptPaper);
    moveKept(ctx, prepared, prepared.keptPaper, input.on);
  }
  refund(ctx, prepared, input);
  endLink(ctx.db, order.id, input.on, input.reason);
  updateOrder(ctx.db, order.id, {
    state: 'cancelled',
    ended_on: input.on,
    end_reason: input.reason,
    kept_minor: keptMinor,
    kept_tax_minor: keptTaxMinor,
  });
  noteState(ctx, order, 'cancelled', input.on, input.reason);
  const refundMinor = sumOf(prepared.parted, (each) => each.refundMinor);
  const { currency } = houseOf(ctx.db);
  if (keptMinor + refundMinor > 0)
    note(ctx, order.id, {
      what: 'Deposit',
      before: formatMinor(keptMinor + refundMinor, currency),
      after: `${formatMinor(keptMinor, currency)} kept, ${formatMinor(refundMinor, currency)} to give back`,
      on: input.on,
    });
  return { keptMinor, refundMinor, creditNumbers: credits.map((kept) => kept.number) };
}

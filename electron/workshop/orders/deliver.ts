/** Delivering an order: the knife is sold, the final invoice names the deposits and takes them off. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { addDays } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMinor } from '../../domain/money.ts';
import {
  endLink,
  orderKnifeRows,
  orderOptionRows,
  type OrderPaperRecord,
  orderPaperRows,
  type OrderRecord,
  updateOrder,
} from '../../storage/queries/orders.ts';
import { channelRecord, insertSale, type KnifeForSale, moveKnife } from '../../storage/queries/selling.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import type { CommandContext } from '../context.ts';
import { feeByRule } from '../costs/fee-words.ts';
import { houseOf } from '../costs/house.ts';
import { netOf } from '../costs/net.ts';
import { wordsFor } from '../paper-words/index.ts';
import { admitSale, noteSale } from '../releases/sold.ts';
import { needBuyer } from '../selling/buyers.ts';
import { planInvoiceOf } from '../selling/compose.ts';
import { keepPaper, type PlannedPaper, setPaper } from '../selling/issue.ts';
import { bookPayment } from '../selling/payments.ts';
import { demandHoldable } from '../selling/reckon.ts';
import { needKnife, notForSale, notInFuture } from '../selling/sale.ts';
import { takePackaging } from '../selling/sell.ts';
import { demandTicks, parcelReminders } from '../shipping/demand.ts';
import { languageOf } from './deposit.ts';
import { noteState } from './history.ts';
import { orderLines } from './lines.ts';
import { demandAfterLink } from './link-day.ts';
import { countedDeposits, demandAfterMoney, depositFees, orderTax, unpaidDeposits } from './money.ts';
import { agreedTerms } from './policies.ts';
import { needOrder, totalOf } from './rows.ts';

type Input = Parsed<'orders.deliver'>;

export interface PreparedDelivery {
  readonly sale: SalesTable;
  readonly paper: PlannedPaper;
}

/** The finished knife that is delivered. @throws FaultError saying what has to be done first */
function demandKnife(ctx: CommandContext, order: OrderRecord, on: string): KnifeForSale {
  const linked = orderKnifeRows(ctx.db, order.id).find((row) => row.until_on === null);
  if (linked === undefined)
    throw refused('No knife is made for this order yet. Link the finished knife first.', 'id');
  const knife = needKnife(ctx.db, linked.build_id);
  const obstacle = notForSale(knife, on);
  if (obstacle !== undefined) throw refused(obstacle, 'id');
  return knife;
}

function demandAgreed(order: OrderRecord, papers: readonly OrderPaperRecord[]): void {
  if (order.state !== 'agreed') throw refused('Only an agreed order is delivered. Agree it first.', 'id');
  const [unpaid] = unpaidDeposits(papers);
  if (unpaid !== undefined)
    throw refused(
      `Deposit invoice ${unpaid.number} is not paid in full. Book its payment, or credit what is left of it, before the rest is invoiced.`,
      'id',
    );
}

/** The sale of the knife with all its columns; the fee counts the charges of the deposits too. */
function draftSale(ctx: CommandContext, { order, knife, papers }: Gathered, input: Input): SalesTable {
  const { currency, decimals } = houseOf(ctx.db);
  const totalMinor = totalOf(order);
  const channel = order.channel_id === null ? undefined : channelRecord(ctx.db, order.channel_id);
  if (totalMinor === null || channel === undefined)
    throw refused('Price or channel are missing. Change the order first.', 'id');
  demandHoldable({ postagePaidMinor: input.postagePaidMinor, feeMinor: input.feeMinor }, decimals);
  const tax = orderTax(ctx.db, order, totalMinor);
  const net = netOf({ ...tax, price_minor: totalMinor, shipping_minor: order.shipping_minor });
  const balance = net.totalMinor - sumOf(countedDeposits(papers), (deposit) => deposit.paidMinor);
  if (balance < 0)
    throw refused(
      `More was paid ahead than the knife comes to. Give ${formatMinor(-balance, currency)} of the deposit back first.`,
      'id',
    );
  const charge = { priceMinor: balance, shippingMinor: 0, taxMinor: 0, abroad: order.abroad === 1 };
  const earlier = depositFees(papers);
  const feeMinor = input.feeMinor ?? feeByRule(channel, charge);
  if (feeMinor > net.totalMinor)
    throw invalid(
      `The fee is more than the whole sale of ${formatMinor(net.totalMinor, currency)}. Check both.`,
      'feeMinor',
    );
  return {
    id: ctx.newId(),
    build_id: knife.id,
    buyer_id: order.buyer_id,
    channel_id: channel.id,
    on_date: input.on,
    price_minor: totalMinor,
    shipping_minor: order.shipping_minor,
    ...tax,
    abroad: order.abroad,
    fee_minor: earlier + feeMinor,
    postage_paid_minor: input.postagePaidMinor,
    taken_back_on: null,
    order_id: order.id,
    release_id: null,
    deposit_fee_minor: earlier,
    flaw: knife.flaw,
    address_id: order.address_id,
    kept_minor: 0,
  };
}

interface Gathered {
  readonly order: OrderRecord;
  readonly knife: KnifeForSale;
  readonly papers: readonly OrderPaperRecord[];
}

function planFinal(ctx: CommandContext, { order, knife, papers }: Gathered, sale: SalesTable, input: Input) {
  const deposits = countedDeposits(papers).map(({ number, issuedOn, paidMinor, taxMinor }) => ({
    number,
    issuedOn,
    paidMinor,
    taxMinor,
  }));
  const words = wordsFor(languageOf(ctx.db, order));
  const title = knife.title === '' || knife.title === knife.model_name ? '' : `${knife.title}, `;
  const flaw = knife.flaw === '' ? '' : `; second: ${knife.flaw}`;
  const plain = knife.flaw === '' ? ('sale' as const) : ('second' as const);
  const lines = orderLines({
    totalMinor: sale.price_minor,
    specialMinor: order.special_minor,
    shippingMinor: sale.shipping_minor,
    options: orderOptionRows(ctx.db, order.id),
    tax: sale,
    knife: {
      description: knife.model_name,
      detail: `${title}${words.invoice.lines.serial(knife.serial)}${flaw}`,
    },
    words: words.order,
  });
  const days = agreedTerms(order.terms)?.balanceDays ?? houseOf(ctx.db).shop.invoice_terms_days;
  return planInvoiceOf(
    ctx.db,
    {
      kind: deposits.length > 0 ? 'balance' : plain,
      saleId: sale.id,
      orderId: order.id,
      serviceId: null,
      buyer: needBuyer(ctx.db, order.buyer_id),
      supplyOn: sale.on_date,
      tax: sale,
      lines,
      taxMinor: sale.tax_minor,
      deposits,
      extraNotes: [],
      about: { buildId: sale.build_id, flaw: sale.flaw },
    },
    {
      invoiceId: ctx.newId(),
      issuedOn: input.on,
      dueOn: input.dueOn ?? addDays(input.on, days),
      paidBy: input.paidBy,
      madeAt: ctx.clock.now(),
      fields: { issuedOn: 'on' },
    },
  );
}

/** Checks the delivery and sets the final invoice; writes nothing. */
export async function prepareDeliver(ctx: CommandContext, input: Input): Promise<PreparedDelivery> {
  const order = needOrder(ctx.db, input.id);
  const papers = orderPaperRows(ctx.db, order.id);
  notInFuture(ctx, input.on, 'on');
  demandAgreed(order, papers);
  if (order.agreed_on !== null && input.on < order.agreed_on)
    throw refused(`It was agreed on ${order.agreed_on}, and is not delivered before. Change the date.`, 'on');
  demandAfterMoney(papers, input.on, 'the knife is delivered');
  demandAfterLink(ctx.db, order.id, input.on);
  const knife = demandKnife(ctx, order, input.on);
  const gathered = { order, knife, papers };
  const sale = draftSale(ctx, gathered, input);
  return { sale, paper: await setPaper(ctx, planFinal(ctx, gathered, sale, input)) };
}

/** Writes sale, invoice and payment, and ends the order. */
export function deliver(ctx: CommandContext, input: Input, { sale, paper }: PreparedDelivery) {
  const order = needOrder(ctx.db, input.id);
  const wanted = { buildId: sale.build_id, buyerId: sale.buyer_id, on: sale.on_date };
  const parcel = { ...wanted, addressId: sale.address_id, abroad: sale.abroad === 1 };
  admitSale(ctx, wanted);
  demandTicks(ctx, { kind: 'sale', id: sale.id }, parcelReminders(ctx, parcel), input.ticks);
  takePackaging(ctx, { buildId: sale.build_id, on: input.on, packaging: input.packaging });
  insertSale(ctx.db, sale);
  moveKnife(ctx.db, sale.build_id, { state: 'sold' });
  endLink(ctx.db, order.id, input.on, 'delivered');
  updateOrder(ctx.db, order.id, { state: 'delivered', ended_on: input.on, sale_id: sale.id });
  noteState(ctx, order, 'delivered', input.on);
  const kept = keepPaper(ctx, paper);
  const { total_minor: totalMinor, prepaid_minor: prepaidMinor } = paper.plan.row;
  if (input.paidBy !== '' && totalMinor > prepaidMinor)
    bookPayment(ctx, {
      invoiceId: kept.invoiceId,
      on: input.on,
      amountMinor: totalMinor - prepaidMinor,
      method: input.paidBy,
    });
  noteSale(ctx, { ...wanted, saleId: sale.id });
  return { saleId: sale.id, invoiceId: kept.invoiceId, invoiceNumber: kept.number };
}

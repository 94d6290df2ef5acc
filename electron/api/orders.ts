/** Contract of the order book: wishes, offers, pre-orders, deposits, the waiting list. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { BuildState } from './builds.ts';
import type { FileOut } from './costs.ts';

/** How far an order has come; the last three are ends. `closed` is a wish or an offer that came to nothing. */
export const orderStates = ['asked', 'offered', 'agreed', 'delivered', 'cancelled', 'closed'] as const;
export type OrderState = (typeof orderStates)[number];
const refundable = ['always', 'untilWork', 'never'] as const;

/** Shares in parts per million, amounts in the minor unit. */
export interface DepositTerms {
  readonly name: string;
  readonly percentPpm: number;
  readonly leastMinor: number;
  readonly specialPpm: number;
  readonly refundable: (typeof refundable)[number];
  readonly keptPpm: number;
  readonly depositDays: number;
  readonly balanceDays: number;
}

export interface DepositPolicy extends DepositTerms {
  readonly id: string;
  readonly from: string;
  readonly note: string;
  readonly archived: boolean;
  /** In force on the day asked about. */
  readonly inForce: boolean;
  readonly agreedOrders: number;
}

export interface OrderKnife {
  readonly id: string;
  readonly serial: string;
  readonly state: BuildState;
}

export interface OrderRow {
  readonly id: string;
  /** E.g. `O-0007`. */
  readonly tag: string;
  readonly state: OrderState;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly modelId: string | null;
  readonly modelName: string;
  readonly wish: string;
  readonly askedOn: string;
  /** Place on the waiting list, from one; null when it does not wait. */
  readonly place: number | null;
  readonly answerBy: string | null;
  readonly agreedOn: string | null;
  readonly promisedOn: string | null;
  readonly endedOn: string | null;
  readonly lastContactOn: string | null;
  /** Knife, options and special material as the tax place counts them; null while nobody has set a price. */
  readonly totalMinor: number | null;
  readonly depositMinor: number;
  /** Paid on its deposit invoices, refunds taken off. */
  readonly paidMinor: number;
  readonly knife: OrderKnife | null;
  /** Promised for a day gone by, and not delivered. */
  readonly late: boolean;
  /** The knife made for it was scrapped or kept, and no other has taken over. */
  readonly knifeLost: boolean;
  /** The day to answer by is gone. */
  readonly answerOverdue: boolean;
}

export interface OrderOption {
  readonly optionId: string | null;
  readonly name: string;
  readonly priceMinor: number;
}

export interface OrderPaper {
  readonly invoiceId: string;
  readonly number: string;
  readonly kind: string;
  readonly on: string;
  readonly totalMinor: number;
  readonly paidMinor: number;
  readonly openMinor: number;
}

/** What an order comes to with tax, minor unit. */
export interface OrderMoney {
  readonly netMinor: number;
  readonly taxLabel: string;
  readonly taxRatePpm: number;
  readonly taxMinor: number;
  /** Knife, options, special material, shipping and tax. */
  readonly grossMinor: number;
  readonly depositMinor: number;
  /** Already paid on deposit invoices and counted towards the knife. */
  readonly prepaidMinor: number;
  /** What the balance invoice will ask. */
  readonly balanceMinor: number;
}

/** The one thing to do next. */
export const orderSteps = [
  'offer',
  'agree',
  'askDeposit',
  'payDeposit',
  'link',
  'remake',
  'make',
  'deliver',
  'giveBack',
  'payBalance',
  'setOff',
  'none',
] as const;
export type OrderStep = (typeof orderSteps)[number];

export interface OrderDetail extends OrderRow {
  readonly priceMinor: number | null;
  readonly specialMinor: number;
  readonly shippingMinor: number;
  readonly options: readonly OrderOption[];
  readonly channelId: string | null;
  readonly taxPlaceId: string | null;
  readonly abroad: boolean;
  readonly addressId: string | null;
  readonly offeredOn: string | null;
  readonly note: string;
  readonly endReason: string;
  /** As agreed; null while nothing is agreed, or when no deposit was. */
  readonly terms: DepositTerms | null;
  /** Null while there is no price. */
  readonly money: OrderMoney | null;
  readonly papers: readonly OrderPaper[];
  readonly keptMinor: number;
  readonly keptTaxMinor: number;
  /** Money of the buyer that is still to go back. */
  readonly giveBackMinor: number;
  readonly knives: readonly (OrderKnife & {
    readonly from: string;
    readonly until: string | null;
    readonly reason: string;
  })[];
  readonly changes: readonly {
    readonly id: string;
    readonly on: string;
    readonly what: string;
    readonly before: string;
    readonly after: string;
    readonly reason: string;
  }[];
  readonly saleId: string | null;
  readonly next: OrderStep;
  /** What cancelling today would mean by the terms agreed; null when it cannot be cancelled. */
  readonly cancelling: {
    readonly paidMinor: number;
    readonly keptMinor: number;
    readonly refundMinor: number;
    readonly because: string;
  } | null;
}

/** Counts for the head of the order book, and whose money lies in the till. */
export interface OrderBookHead {
  readonly waiting: number;
  readonly offered: number;
  readonly agreed: number;
  readonly late: number;
  /** Delivered, cancelled, or come to nothing. */
  readonly ended: number;
  /** Deposits of orders neither delivered nor ended. */
  readonly heldMinor: number;
  readonly held: readonly {
    readonly id: string;
    readonly tag: string;
    readonly buyerName: string;
    readonly paidMinor: number;
  }[];
  /** Deposits of cancelled orders that are still to go back. */
  readonly giveBackMinor: number;
  /** Kept of the deposits of cancelled orders, tax taken out, over all years. */
  readonly keptMinor: number;
  /** Late, due within three weeks, without its knife, or waiting for an answer that is due: the most pressing first. */
  readonly attention: readonly OrderRow[];
}

const optionFields = z.strictObject({
  optionId: f.id.nullable().default(null),
  name: f.requiredText,
  priceMinor: z.int('Write an amount of money.').min(-1e12).max(1e12),
});

const specFields = {
  modelId: f.id.nullable().default(null),
  wish: f.longText.default(''),
  priceMinor: f.minorPositive.nullable().default(null),
  specialMinor: f.minorPositive.default(0),
  shippingMinor: f.minorPositive.default(0),
  options: z.array(optionFields).max(40, 'Keep to forty options.').default([]),
  channelId: f.id.nullable().default(null),
  taxPlaceId: f.id.nullable().default(null),
  abroad: z.boolean().default(false),
  addressId: f.id.nullable().default(null),
  promisedOn: f.isoDate.nullable().default(null),
  note: f.longText.default(''),
};

const ticks = z.array(f.shortText).max(50).default([]);

/** Every call of the order book: wishes, offers, pre-orders, deposits, the waiting list. */
export const orderEndpoints = {
  /** Rules for deposits, with those in force on a day marked. */
  'orders.policies': query(z.strictObject({ on: f.isoDate.optional() }))<{
    readonly rows: readonly DepositPolicy[];
    /** Common practice, to be taken over or not. */
    readonly usual: DepositTerms;
  }>(),
  'orders.savePolicy': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      from: f.isoDate,
      percentPpm: f.ratePpm,
      leastMinor: f.minorPositive.default(0),
      specialPpm: f.ratePpm.default(1_000_000),
      refundable: z.enum(refundable),
      keptPpm: f.ratePpm,
      depositDays: z.int().min(0).max(365),
      balanceDays: z.int().min(0).max(365),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<DepositPolicy>(),
  'orders.head': query(z.strictObject({}))<OrderBookHead>(),
  'orders.list': query(
    z.strictObject({
      text: f.shortText.default(''),
      show: z.enum(['open', 'waiting', 'offered', 'agreed', 'late', 'ended', 'all']).default('open'),
      buyerId: f.id.optional(),
      ...f.page,
    }),
  )<f.Page<OrderRow>>(),
  'orders.get': query(z.strictObject({ id: f.id }))<OrderDetail>(),
  /** The order a knife is or was made for, if any. */
  'orders.ofBuild': query(z.strictObject({ buildId: f.id }))<{ readonly order: OrderRow | null }>(),
  /** A wish without money: it goes to the end of the waiting list. */
  'orders.ask': command(
    z.strictObject({
      buyerId: f.id,
      modelId: f.id.nullable().default(null),
      wish: f.longText.default(''),
      on: f.isoDate,
      answerBy: f.isoDate.nullable().default(null),
    }),
  )<OrderDetail>(),
  'orders.move': command(
    z.strictObject({ id: f.id, to: z.enum(['up', 'down', 'top', 'bottom']) }),
  )<OrderDetail>(),
  /** Notes that buyer and maker spoke. */
  'orders.contacted': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      note: f.shortText.default(''),
      answerBy: f.isoDate.nullable().default(null),
    }),
  )<OrderDetail>(),
  /** Sets the price and the rest, and notes that the buyer was told. */
  'orders.offer': command(
    z.strictObject({ id: f.id, on: f.isoDate, answerBy: f.isoDate.nullable().default(null), ...specFields }),
  )<OrderDetail>(),
  'orders.offerPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  /** Changes what is wanted, what it costs or when it is promised; every difference stays in the history. */
  'orders.change': command(
    z.strictObject({ id: f.id, on: f.isoDate, reason: f.shortText.default(''), ...specFields }),
  )<OrderDetail>(),
  /** The buyer agreed: the rule for the deposit is frozen as it stands, and its invoice issued if wanted. */
  'orders.agree': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      promisedOn: f.isoDate.nullable().default(null),
      /** Null: no deposit. */
      policyId: f.id.nullable(),
      /** Leave out to take what the rule says. */
      depositMinor: f.minorPositive.optional(),
      invoice: z.boolean().default(true),
      dueOn: f.isoDate.optional(),
      paidBy: f.shortText.default(''),
      ticks,
    }),
  )<{ readonly invoiceId: string | null; readonly invoiceNumber: string | null }>(),
  /** Issues the invoice of the deposit, or of a further part of it. */
  'orders.invoiceDeposit': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      amountMinor: f.minorPositive.min(1, 'A deposit must be more than zero.'),
      dueOn: f.isoDate.optional(),
      paidBy: f.shortText.default(''),
    }),
  )<{ readonly invoiceId: string; readonly invoiceNumber: string }>(),
  /** Sells the finished knife to the one who ordered it; the balance invoice names the deposits and takes them off. */
  'orders.deliver': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      postagePaidMinor: f.minorPositive.default(0),
      /** Of this last charge. Leave out to use the channel's rule. */
      feeMinor: f.minorPositive.optional(),
      dueOn: f.isoDate.optional(),
      paidBy: f.shortText.default(''),
      packaging: z
        .strictObject({
          partIds: z.array(f.id).max(100).default([]),
          flatIds: z.array(f.id).max(100).default([]),
        })
        .optional(),
      ticks,
    }),
  )<{ readonly saleId: string; readonly invoiceId: string; readonly invoiceNumber: string }>(),
  /** Ends an agreed order by the terms agreed: what is not kept is credited, and refunded now if a way to pay is named. */
  'orders.cancel': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      reason: f.requiredText,
      /** Leave out to keep what the terms allow; less may be kept, never more. */
      keptMinor: f.minorPositive.optional(),
      refundBy: f.shortText.default(''),
    }),
  )<{
    readonly keptMinor: number;
    readonly refundMinor: number;
    readonly creditNumbers: readonly string[];
  }>(),
  /** A wish or an offer that came to nothing. */
  'orders.close': command(z.strictObject({ id: f.id, on: f.isoDate, reason: f.requiredText }))<OrderDetail>(),
  /** Takes the last step back: a closed wish waits again, an agreed order without money is an offer again. */
  'orders.stepBack': command(z.strictObject({ id: f.id, reason: f.requiredText }))<OrderDetail>(),
  /** This knife is made for the order; a knife linked before gives way, with the reason. */
  'orders.link': command(
    z.strictObject({ id: f.id, buildId: f.id, on: f.isoDate, reason: f.shortText.default('') }),
  )<OrderDetail>(),
  'orders.unlink': command(
    z.strictObject({ id: f.id, on: f.isoDate, reason: f.requiredText }),
  )<OrderDetail>(),
} as const;

/** Contract of sales and Invoices. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { FileOut } from './costs.ts';

export interface SaleFigures {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  readonly taxLabel: string;
  readonly taxRatePpm: number;
  readonly totalMinor: number;
  readonly feeMinor: number;
  /** How the fee was reckoned, in words. */
  readonly feeHow: string;
  readonly packagingMinor: number;
  /** Direct cost so far, packaging included. */
  readonly directMinor: number;
  readonly contributionMinor: number;
  readonly minutes: number;
  readonly contributionPerHourMinor: number | null;
}

export interface SaleRow {
  readonly id: string;
  readonly on: string;
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly modelCode: string;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly channelName: string;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  readonly feeMinor: number;
  readonly postagePaidMinor: number;
  readonly contributionMinor: number;
  readonly minutes: number;
  readonly invoiceId: string | null;
  readonly invoiceNumber: string | null;
  readonly takenBack: boolean;
}

export interface InvoiceRow {
  readonly id: string;
  readonly number: string;
  readonly kind: 'sale' | 'second' | 'deposit' | 'balance' | 'service' | 'credit';
  readonly issuedOn: string;
  readonly dueOn: string;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly totalMinor: number;
  /** Paid before on deposit invoices. */
  readonly prepaidMinor: number;
  /** Taken back by credits, as a positive amount. */
  readonly creditedMinor: number;
  readonly paidMinor: number;
  /** Total less prepaid, credited and paid; below zero is money to give back. */
  readonly openMinor: number;
  readonly state:
    | 'open'
    | 'partPaid'
    | 'paid'
    | 'overpaid'
    | 'credited'
    | 'creditedOver'
    | 'creditedOpen'
    | 'partCredited'
    | 'partCreditedOver'
    | 'credit';
  readonly overdue: boolean;
  /** What stands in its lines, one below the other: a list is narrowed by it. */
  readonly about: string;
}

export interface InvoiceLine {
  readonly description: string;
  readonly detail: string;
  /** In units of 10^-qtyScale. */
  readonly qty: number;
  readonly qtyScale: number;
  readonly unitPriceMinor: number;
  readonly netMinor: number;
  readonly taxRatePpm: number;
}

export interface Payment {
  readonly id: string;
  readonly on: string;
  readonly amountMinor: number;
  readonly method: string;
  readonly reference: string;
  /** Why money was taken or given back; empty for money received. */
  readonly reason: string;
  /** Kept by the channel of this charge, where it does not stand with a sale. */
  readonly feeMinor: number;
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

/** Another invoice of the same order whose open sum stands against this one's. */
export interface SetOff {
  readonly invoiceId: string;
  readonly number: string;
  /** What of the two can be booked against each other; above zero. */
  readonly minor: number;
}

export interface InvoiceDetail extends InvoiceRow {
  readonly saleId: string | null;
  readonly orderId: string | null;
  readonly serviceId: string | null;
  readonly buildId: string | null;
  readonly supplyOn: string;
  readonly currency: string;
  readonly sellerName: string;
  readonly sellerAddress: string;
  readonly buyerAddress: string;
  readonly language: string;
  /** Why no tax is charged; empty where there is some. */
  readonly taxReason: string;
  readonly note: string;
  readonly lines: readonly InvoiceLine[];
  readonly netMinor: number;
  readonly taxes: readonly {
    readonly label: string;
    readonly ratePpm: number;
    readonly baseMinor: number;
    readonly taxMinor: number;
  }[];
  readonly taxMinor: number;
  readonly payments: readonly Payment[];
  readonly creditsId: string | null;
  readonly creditsNumber: string | null;
  readonly creditedById: string | null;
  readonly creditedByNumber: string | null;
  readonly setOff: SetOff | null;
  readonly sha256: string;
}

const saleFields = {
  buildId: f.id,
  channelId: f.id,
  taxPlaceId: f.id.nullable(),
  priceMinor: f.minorPositive,
  shippingMinor: f.minorPositive,
  postagePaidMinor: f.minorPositive.default(0),
  abroad: z.boolean().default(false),
  /** Leave out to use the channel's rule. */
  feeMinor: f.minorPositive.optional(),
};

/** Every call about sales and invoices. */
export const sellingEndpoints = {
  /** What a sale would bring, before it is booked. Changes nothing. */
  'selling.figures': query(z.strictObject(saleFields))<SaleFigures>(),
  'selling.sell': command(
    z.strictObject({
      ...saleFields,
      buyerId: f.id,
      on: f.isoDate,
      /** Issue the invoice in the same step. */
      invoice: z.boolean().default(true),
      dueOn: f.isoDate.optional(),
      /** Reminders looked at before it leaves, by their keys. */
      ticks: z.array(z.string().max(100)).max(100).default([]),
      /** Where it goes, when that is not the invoice address. */
      addressId: f.id.nullable().default(null),
      /** Book the whole invoice as paid on the day of sale. */
      paidBy: f.shortText.default(''),
      /** Usual packaging of the model to take for the knife in the same step; when it cannot be had, nothing is sold. */
      packaging: z
        .strictObject({
          partIds: z.array(f.id).max(100).default([]),
          flatIds: z.array(f.id).max(100).default([]),
        })
        .optional(),
    }),
  )<{ readonly saleId: string; readonly invoiceId: string | null; readonly invoiceNumber: string | null }>(),
  /** The postage and fee really paid, once known. The old figures stay in the history. */
  'selling.actuals': command(
    z.strictObject({
      saleId: f.id,
      postagePaidMinor: f.minorPositive,
      feeMinor: f.minorPositive,
      reason: f.requiredText,
    }),
  )<SaleRow>(),
  'selling.sales': query(
    z.strictObject({
      text: f.shortText.default(''),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
      ...f.page,
    }),
  )<f.Page<SaleRow>>(),
  'selling.issue': command(
    z.strictObject({
      saleId: f.id,
      issuedOn: f.isoDate,
      dueOn: f.isoDate.optional(),
      note: f.longText.optional(),
    }),
  )<{ readonly invoiceId: string; readonly number: string }>(),
  'selling.draftPdf': query(z.strictObject({ saleId: f.id }))<FileOut>(),
  'selling.invoices': query(
    z.strictObject({
      text: f.shortText.default(''),
      state: z.enum(['all', 'open', 'paid', 'overdue']).default('all'),
      ...f.page,
    }),
  )<f.Page<InvoiceRow>>(),
  'selling.invoice': query(z.strictObject({ id: f.id }))<InvoiceDetail>(),
  /** The paper as issued, byte for byte, checked against its hash in the books. */
  'selling.invoicePdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  'selling.pay': command(
    z.strictObject({
      invoiceId: f.id,
      on: f.isoDate,
      amountMinor: z.int().min(1, 'A payment must be more than zero.').max(1e13),
      method: f.requiredText,
      reference: f.shortText.default(''),
      /** ISO 4217 code; another than the invoice's is refused. */
      currency: z.string().trim().toUpperCase().max(3).optional(),
      /** Of a deposit or a service: the channel whose fee this charge bears. */
      channelId: f.id.nullable().default(null),
      /** Leave out to use the channel's rule. */
      feeMinor: f.minorPositive.optional(),
      /** Paid from abroad, for the channel's rule. */
      abroad: z.boolean().default(false),
    }),
  )<Payment>(),
  'selling.reversePayment': command(z.strictObject({ paymentId: f.id, reason: f.requiredText }))<Payment>(),
  /** Books two invoices of one order against each other, today; taking either entry back takes back both. */
  'selling.setOff': command(z.strictObject({ invoiceId: f.id }))<SetOff>(),
  /**
   * Takes back an invoice, or a part of it, by a credit of its own number. When the whole of a sale's invoice is taken
   * back, the knife may come back to the shelf.
   */
  'selling.credit': command(
    z.strictObject({
      invoiceId: f.id,
      on: f.isoDate,
      reason: f.requiredText,
      /** Of the total, tax included; leave out to take back all that is left. */
      amountMinor: z.int().min(1, 'A credit must be more than zero.').max(1e13).optional(),
      /** Only asked where the whole is taken back. */
      knifeComesBack: z.boolean().default(true),
    }),
  )<{ readonly invoiceId: string; readonly number: string }>(),
} as const;

/** Contract of Buyers, sales and Invoices. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { FileOut } from './costs.ts';

export interface Buyer {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly address: string;
  readonly country: string;
  readonly taxPlaceId: string | null;
  /** Pays the workshop a membership and is offered knives early. */
  readonly supporter: boolean;
  readonly note: string;
  readonly archived: boolean;
}

export interface BuyerRow extends Buyer {
  readonly bought: number;
  readonly spentMinor: number;
  readonly lastBoughtOn: string | null;
}

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
  readonly kind: 'sale' | 'credit';
  readonly issuedOn: string;
  readonly dueOn: string;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly totalMinor: number;
  readonly paidMinor: number;
  readonly openMinor: number;
  readonly state: 'open' | 'partPaid' | 'paid' | 'overpaid' | 'credited' | 'credit';
  readonly overdue: boolean;
}

export interface InvoiceLine {
  readonly description: string;
  readonly detail: string;
  readonly qty: number;
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
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

export interface InvoiceDetail extends InvoiceRow {
  readonly saleId: string;
  readonly buildId: string;
  readonly supplyOn: string;
  readonly currency: string;
  readonly sellerName: string;
  readonly sellerAddress: string;
  readonly buyerAddress: string;
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

/** Every call about buyers, sales and invoices. */
export const sellingEndpoints = {
  'selling.buyers': query(
    z.strictObject({ text: f.shortText.default(''), includeArchived: z.boolean().default(false), ...f.page }),
  )<f.Page<BuyerRow>>(),
  'selling.buyer': query(z.strictObject({ id: f.id }))<
    BuyerRow & { readonly sales: readonly SaleRow[]; readonly invoices: readonly InvoiceRow[] }
  >(),
  'selling.saveBuyer': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      email: f.shortText.default(''),
      phone: f.shortText.default(''),
      address: f.longText.default(''),
      country: z
        .string()
        .trim()
        .toUpperCase()
        .regex(/^([A-Z]{2})?$/, 'Write the country as its two letters, for example US or DE.')
        .default(''),
      taxPlaceId: f.id.nullable().default(null),
      supporter: z.boolean().default(false),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<Buyer>(),
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
    }),
  )<Payment>(),
  'selling.reversePayment': command(z.strictObject({ paymentId: f.id, reason: f.requiredText }))<Payment>(),
  /** Takes back a whole invoice by a credit of its own number; the knife may come back to the shelf. */
  'selling.credit': command(
    z.strictObject({ invoiceId: f.id, on: f.isoDate, reason: f.requiredText, knifeComesBack: z.boolean() }),
  )<{ readonly invoiceId: string; readonly number: string }>(),
} as const;

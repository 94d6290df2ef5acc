/** Contract of invoices in full: drafts, refunds, reminders, what is owed and how long, statements, numbers. */
import { z } from 'zod';
import type { AgeBand } from '../domain/ageing.ts';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { InvoiceRow, Payment } from './selling.ts';

/** A line of a draft as written. */
export interface DraftLine {
  readonly description: string;
  readonly detail: string;
  /** In units of 10^-qtyScale. */
  readonly qty: number;
  readonly qtyScale: number;
  /** As the tax place counts it: with the tax in it where its prices hold the tax. */
  readonly unitPriceMinor: number;
  readonly taxed: boolean;
}

/** What lines come to under a tax place's rule. */
export interface DraftFigures {
  /** As written, line by line: quantity × price. */
  readonly amountsMinor: readonly number[];
  readonly netMinor: number;
  readonly taxLabel: string;
  readonly taxRatePpm: number;
  readonly inclusive: boolean;
  readonly taxMinor: number;
  readonly totalMinor: number;
}

export interface DraftRow {
  readonly id: string;
  readonly buyerId: string;
  readonly buyerName: string;
  /** What it says first. */
  readonly about: string;
  readonly lines: number;
  readonly totalMinor: number;
  /** UTC instant. */
  readonly changedAt: string;
}

export interface Draft {
  readonly id: string;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly serviceId: string | null;
  readonly taxPlaceId: string | null;
  readonly lines: readonly DraftLine[];
  readonly note: string;
  readonly changedAt: string;
}

/** What article 226 of the VAT Directive asks for and an invoice would lack. */
export interface ParticularsCheck {
  /** False outside the European Union: nothing is held against that article. */
  readonly applies: boolean;
  /** Item of the article and a sentence that says what to enter where. */
  readonly missing: readonly { readonly item: string; readonly sentence: string }[];
}

export interface ReminderRow {
  readonly id: string;
  readonly nth: number;
  readonly on: string;
  readonly payBy: string;
  readonly openMinor: number;
}

export interface OwedRow {
  readonly invoiceId: string;
  readonly number: string;
  readonly kind: InvoiceRow['kind'];
  readonly buyerId: string;
  readonly buyerName: string;
  readonly issuedOn: string;
  readonly dueOn: string;
  /** Below zero is money to give back. */
  readonly openMinor: number;
  /** Days past the due day; zero or less is not due yet. */
  readonly daysLate: number;
  readonly band: AgeBand;
  readonly reminders: number;
}

export interface Ageing {
  readonly on: string;
  readonly bands: readonly {
    readonly band: AgeBand;
    readonly label: string;
    readonly count: number;
    readonly openMinor: number;
  }[];
  /** What buyers owe, the latest due first. */
  readonly rows: readonly OwedRow[];
  readonly owedMinor: number;
  /** Paid beyond what was asked, to give back. */
  readonly toGiveBack: readonly OwedRow[];
  readonly toGiveBackMinor: number;
}

export interface StatementRow {
  readonly on: string;
  readonly what: 'invoice' | 'credit' | 'payment' | 'refund' | 'reversal' | 'moved';
  readonly invoiceId: string;
  readonly number: string;
  readonly detail: string;
  /** Above zero adds to what the buyer owes. */
  readonly amountMinor: number;
  readonly balanceMinor: number;
}

export interface Statement {
  readonly buyerId: string;
  readonly buyerName: string;
  readonly from: string;
  readonly to: string;
  readonly openingMinor: number;
  readonly rows: readonly StatementRow[];
  readonly closingMinor: number;
}

/** Papers that may run under numbers of their own. */
export const numberedKinds = ['deposit', 'credit', 'service'] as const;
export type NumberedKind = (typeof numberedKinds)[number];

export interface NumberPattern {
  readonly kind: NumberedKind;
  /** Empty: it runs with the plain invoices. */
  readonly pattern: string;
}

const money = z.int('Write an amount of money.').max(1e13);
const lines = z
  .array(
    z.strictObject({
      description: f.requiredText,
      detail: f.shortText.default(''),
      qty: z
        .int('Write a quantity, for example 1 or 2.5.')
        .min(-1e9)
        .max(1e9, 'This quantity is too large.')
        .refine((qty) => qty !== 0, 'A quantity cannot be zero. Leave the line out instead.'),
      qtyScale: z.int().min(0).max(4, 'A quantity can have four decimals at most.').default(0),
      unitPriceMinor: f.minorPositive,
      taxed: z.boolean().default(true),
    }),
  )
  .min(1, 'An invoice needs a line.')
  .max(200, 'An invoice can have 200 lines at most. Part it in two.');
const period = { buyerId: f.id, from: f.isoDate, to: f.isoDate };

/** Every call of invoices in full: drafts, refunds, reminders, what is owed, statements, numbers. */
export const billingEndpoints = {
  'billing.drafts': query(z.strictObject({}))<readonly DraftRow[]>(),
  'billing.draft': query(z.strictObject({ id: f.id }))<Draft>(),
  /** What lines would come to. Changes nothing. */
  'billing.figures': query(z.strictObject({ taxPlaceId: f.id.nullable(), lines }))<DraftFigures>(),
  'billing.saveDraft': command(
    z.strictObject({
      id: f.id.optional(),
      buyerId: f.id,
      serviceId: f.id.nullable().default(null),
      taxPlaceId: f.id.nullable().default(null),
      lines,
      note: f.longText.default(''),
    }),
  )<Draft>(),
  'billing.deleteDraft': command(z.strictObject({ id: f.id }))<{ readonly id: string }>(),
  'billing.draftPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  'billing.issueDraft': command(
    z.strictObject({
      id: f.id,
      issuedOn: f.isoDate,
      /** Day the work was done or the goods were handed over; the day of issue unless given. */
      supplyOn: f.isoDate.optional(),
      dueOn: f.isoDate.optional(),
      /** How the whole invoice was paid on the day of issue; empty when it was not. */
      paidBy: f.shortText.default(''),
      /** The way it was paid, where that keeps a fee. */
      channelId: f.id.nullable().default(null),
    }),
  )<{ readonly invoiceId: string; readonly number: string }>(),
  /** What article 226 would miss on the invoice of a sale or a draft. */
  'billing.check': query(
    z.strictObject({ saleId: f.id.optional(), draftId: f.id.optional() }),
  )<ParticularsCheck>(),
  /** Money given back that was paid beyond what the invoice asks. */
  'billing.refund': command(
    z.strictObject({
      invoiceId: f.id,
      on: f.isoDate,
      amountMinor: money.min(1, 'A refund must be more than zero.'),
      method: f.requiredText,
      reference: f.shortText.default(''),
      reason: f.requiredText,
    }),
  )<Payment>(),
  'billing.reminders': query(z.strictObject({ invoiceId: f.id }))<readonly ReminderRow[]>(),
  /** Writes a reminder as a letter and keeps it. Nothing is sent. */
  'billing.remind': command(
    z.strictObject({ invoiceId: f.id, on: f.isoDate, payBy: f.isoDate }),
  )<ReminderRow>(),
  'billing.reminderPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  /** What buyers owed at the end of a day, by how long it was due. */
  'billing.ageing': query(z.strictObject({ on: f.isoDate }))<Ageing>(),
  'billing.ageingPdf': query(z.strictObject({ on: f.isoDate }))<FileOut>(),
  'billing.statement': query(z.strictObject(period))<Statement>(),
  'billing.statementPdf': query(z.strictObject(period))<FileOut>(),
  'billing.patterns': query(z.strictObject({}))<readonly NumberPattern[]>(),
  'billing.setPattern': command(z.strictObject({ kind: z.enum(numberedKinds), pattern: f.shortText }))<
    readonly NumberPattern[]
  >(),
} as const;

/** Contract of what follows a sale: parcels, certificates, service, returns. */
import { z } from 'zod';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** What is done to a knife after it was sold, or to a knife of another hand. */
export const serviceKinds = ['sharpening', 'repair', 'warranty', 'other'] as const;
export type ServiceKind = (typeof serviceKinds)[number];

export interface Service {
  readonly id: string;
  /** Null for a knife of another hand. */
  readonly buildId: string | null;
  /** Serial and name of an own knife, else what was written. */
  readonly knife: string;
  readonly buyerId: string | null;
  readonly buyerName: string;
  readonly kind: ServiceKind;
  readonly receivedOn: string;
  readonly doneOn: string | null;
  readonly sentOn: string | null;
  readonly cancelledOn: string | null;
  readonly state: 'here' | 'done' | 'sent' | 'cancelled';
  readonly note: string;
  /** Asked for it, as the tax place counts it; zero is free. */
  readonly priceMinor: number;
  readonly postagePaidMinor: number;
  /** The invoice that stands; one taken back whole does not. */
  readonly invoiceId: string | null;
  readonly invoiceNumber: string | null;
}

/** What a service is usually asked for, and why. */
export interface ServiceTerms {
  readonly free: boolean;
  /** In words, e.g. "sold 24 Sep 2024, within a year"; empty where there is nothing to say. */
  readonly why: string;
  /** Asked last for this kind; null before the first. */
  readonly lastPriceMinor: number | null;
  /** Who bought the knife last. */
  readonly buyerId: string | null;
}

/** One thing in the box, as the packing slip and the content list name it. */
export interface ParcelLine {
  readonly what: string;
  /** In the words of a customs form: what it is and what it is for. */
  readonly customs: string;
  readonly qty: number;
  /** Net weight of all of them, nanograms; null where nobody weighed. */
  readonly weightNg: number | null;
  /** Worth of all of them, minor unit of the workshop's currency. */
  readonly valueMinor: number;
  /** Number of the tariff, as the sender looked it up; may be empty. */
  readonly tariff: string;
  /** Country the thing was made in, two letters; may be empty. */
  readonly origin: string;
}

export interface Parcel {
  readonly id: string;
  readonly saleId: string;
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly on: string;
  /** The label's lines as they stood. */
  readonly address: string;
  readonly country: string;
  /** It leaves the workshop's own country. */
  readonly abroad: boolean;
  readonly carrier: string;
  readonly tracking: string;
  readonly weightNg: number | null;
  readonly insuredMinor: number;
  readonly contents: readonly ParcelLine[];
  readonly note: string;
  readonly cancelledOn: string | null;
}

/** What to begin a parcel with. */
export interface ParcelDraft {
  readonly saleId: string;
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly buyerId: string;
  readonly buyerName: string;
  /** The sale says that it leaves the country. */
  readonly abroad: boolean;
  readonly soldOn: string;
  /** The invoice address first, then the addresses parcels go to. */
  readonly addresses: readonly {
    readonly id: string | null;
    readonly label: string;
    readonly lines: string;
    readonly country: string;
  }[];
  /** The one the sale names; null is the invoice address. */
  readonly addressId: string | null;
  /** Knife as weighed and the wrapping of the last parcel of its model; null where one of them is not known. */
  readonly weightNg: number | null;
  readonly insuredMinor: number;
  readonly contents: readonly ParcelLine[];
  /** Expected or paid already, as the sale has it. */
  readonly postagePaidMinor: number;
  /** Carriers of earlier parcels, the latest first. */
  readonly carriers: readonly string[];
}

/** What an invoice for a service would come to. */
export interface ServiceFigures {
  readonly netMinor: number;
  readonly taxMinor: number;
  readonly taxLabel: string;
  readonly totalMinor: number;
  /** What the way of paying would keep; zero without one. */
  readonly feeMinor: number;
}

/** Where a knife goes that came back. */
export const returnEnds = ['shelf', 'kept', 'scrapped'] as const;
export type ReturnEnd = (typeof returnEnds)[number];

/** What taking a knife back would come to. */
export interface ReturnFigures {
  readonly serial: string;
  readonly title: string;
  readonly buyerName: string;
  readonly soldOn: string;
  /** As the tax place counts it. */
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  /** Null where the sale has no invoice: then nothing is credited and no money is booked back here. */
  readonly invoiceNumber: string | null;
  /** Asked on the invoice and not credited before, tax in it. */
  readonly totalMinor: number;
  /** Came in on the invoice and on its deposits. */
  readonly paidMinor: number;
  readonly keptNetMinor: number;
  readonly keptTaxMinor: number;
  readonly creditMinor: number;
  /** Money to give back once the credit stands. */
  readonly refundMinor: number;
  /** The maker's own words on returns; empty where none are written. */
  readonly policy: string;
}

const parcelLine = z.strictObject({
  what: f.requiredText,
  customs: f.shortText.default(''),
  qty: z.int('Write a whole number.').min(1, 'There must be at least one of it.').max(1000),
  weightNg: f.quantity.nullable().default(null),
  valueMinor: f.minorPositive,
  tariff: z
    .string()
    .trim()
    .regex(
      /^[\d. ]{0,16}$/,
      'A tariff number has digits, points and spaces only. Leave it empty if you are not sure.',
    )
    .default(''),
  origin: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^([A-Z]{2})?$/, 'Write the country as its two letters, for example US or DE.')
    .default(''),
});

const serviceFields = {
  buildId: f.id.nullable().default(null),
  /** What knife it is; only asked for where it is not one of the workshop's own. */
  knife: f.shortText.default(''),
  buyerId: f.id.nullable().default(null),
  kind: z.enum(serviceKinds),
  receivedOn: f.isoDate,
  doneOn: f.isoDate.nullable().default(null),
  sentOn: f.isoDate.nullable().default(null),
  note: f.longText.default(''),
  priceMinor: f.minorPositive.default(0),
  postagePaidMinor: f.minorPositive.default(0),
};

/** What the maker proposes after a sale. */
export interface CareSettings {
  /** For how many months after the sale the first sharpening is proposed free; none at zero. */
  readonly freeMonths: number;
}

/** Every call of what follows a sale: parcels, certificates, service, returns. */
export const careEndpoints = {
  'care.services': query(
    z.strictObject({
      text: f.shortText.default(''),
      /** `here`: not sent back yet. */
      state: z.enum(['all', 'here']).default('all'),
      buildId: f.id.optional(),
      buyerId: f.id.optional(),
      ...f.page,
    }),
  )<f.Page<Service>>(),
  'care.service': query(z.strictObject({ id: f.id }))<Service>(),
  'care.serviceTerms': query(
    z.strictObject({ buildId: f.id.nullable(), kind: z.enum(serviceKinds), on: f.isoDate }),
  )<ServiceTerms>(),
  'care.settings': query(z.strictObject({}))<CareSettings>(),
  'care.saveSettings': command(
    z.strictObject({ freeMonths: z.int().min(0).max(120, 'Ten years are the most.') }),
  )<CareSettings>(),
  'care.saveService': command(z.strictObject({ id: f.id.optional(), ...serviceFields }))<Service>(),
  'care.serviceFigures': query(
    z.strictObject({ serviceId: f.id, taxPlaceId: f.id.nullable(), channelId: f.id.nullable() }),
  )<ServiceFigures>(),
  /** Issues the invoice for a service that is done; paid in the same step where said how. */
  'care.invoiceService': command(
    z.strictObject({
      serviceId: f.id,
      taxPlaceId: f.id.nullable(),
      issuedOn: f.isoDate,
      dueOn: f.isoDate.optional(),
      note: f.longText.optional(),
      /** How the whole invoice was paid on the day of issue; empty when it was not. */
      paidBy: f.shortText.default(''),
      /** The way it was paid, where that keeps a fee. */
      channelId: f.id.nullable().default(null),
    }),
  )<{ readonly invoiceId: string; readonly number: string }>(),
  /** What taking a sold knife back would come to. Changes nothing. */
  'care.returnFigures': query(
    z.strictObject({ saleId: f.id, keptMinor: f.minorPositive.default(0) }),
  )<ReturnFigures>(),
  /** A sold knife comes back: credit, money back, and where the knife goes. */
  'care.takeBack': command(
    z.strictObject({
      saleId: f.id,
      on: f.isoDate,
      /** How it came back; printed on the credit and noted on the knife. */
      condition: f.requiredText,
      /** Kept for restocking, in the price's own terms. */
      keptMinor: f.minorPositive.default(0),
      knife: z.enum(returnEnds),
      /** How money was given back on that day; empty when it was not yet. */
      refundBy: f.shortText.default(''),
    }),
  )<{
    readonly creditId: string | null;
    readonly creditNumber: string | null;
    readonly refundedMinor: number;
  }>(),
  'care.cancelService': command(
    z.strictObject({ id: f.id, on: f.isoDate, reason: f.requiredText }),
  )<Service>(),
  'care.parcels': query(
    z.strictObject({
      text: f.shortText.default(''),
      saleId: f.id.optional(),
      buildId: f.id.optional(),
      ...f.page,
    }),
  )<f.Page<Parcel>>(),
  'care.parcelDraft': query(z.strictObject({ saleId: f.id }))<ParcelDraft>(),
  'care.pack': command(
    z.strictObject({
      saleId: f.id,
      on: f.isoDate,
      /** Null: the invoice address. */
      addressId: f.id.nullable().default(null),
      carrier: f.shortText.default(''),
      tracking: f.shortText.default(''),
      weightNg: f.quantity.nullable().default(null),
      insuredMinor: f.minorPositive.default(0),
      contents: z.array(parcelLine).min(1, 'Write down what is in the box.').max(50),
      note: f.longText.default(''),
      /** The postage really paid, where it is known already. */
      postagePaidMinor: f.minorPositive.optional(),
      /** Keys of the reminders that were ticked. */
      ticks: z.array(f.shortText).max(100).default([]),
    }),
  )<Parcel>(),
  /** Carrier, number and note, known later; what was declared stays as it was. */
  'care.changeParcel': command(
    z.strictObject({ id: f.id, carrier: f.shortText, tracking: f.shortText, note: f.longText }),
  )<Parcel>(),
  'care.cancelParcel': command(z.strictObject({ id: f.id, on: f.isoDate, reason: f.requiredText }))<Parcel>(),
  'care.packingSlipPdf': query(
    z.strictObject({ id: f.id, withPrices: z.boolean().default(false) }),
  )<FileOut>(),
  'care.contentListPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  'care.certificatePdf': query(z.strictObject({ buildId: f.id }))<FileOut>(),
} as const;

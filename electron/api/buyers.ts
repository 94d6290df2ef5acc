/** Contract of buyers in full: addresses, supporter levels, merging, forgetting, exchange. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { InvoiceRow, SaleRow } from './selling.ts';

/** An address in parts; older ones hold everything in `address`. */
export interface Address {
  /** Street lines. */
  readonly address: string;
  readonly city: string;
  readonly region: string;
  readonly postcode: string;
  /** ISO 3166-1, two letters, or empty. */
  readonly country: string;
}

export interface Buyer extends Address {
  readonly id: string;
  readonly name: string;
  readonly email: string;
  readonly phone: string;
  readonly taxPlaceId: string | null;
  /** For a business that accounts for the tax itself. */
  readonly taxNumber: string;
  /** Language of their papers; empty for the workshop's. */
  readonly language: string;
  readonly firstContactOn: string | null;
  /** Pays the workshop a membership today and is offered knives early. */
  readonly supporter: boolean;
  /** Name of the level today; empty for none. */
  readonly level: string;
  readonly note: string;
  readonly archived: boolean;
  /** The day the person was forgotten at their wish. */
  readonly erasedOn: string | null;
}

export interface BuyerRow extends Buyer {
  readonly bought: number;
  readonly spentMinor: number;
  readonly lastBoughtOn: string | null;
}

export interface DeliveryAddress extends Address {
  readonly id: string;
  /** What the maker calls it, e.g. "at work". */
  readonly label: string;
  /** Who takes it in there; empty for the buyer. */
  readonly recipient: string;
  readonly archived: boolean;
}

export interface SupporterLevel {
  readonly id: string;
  readonly name: string;
  /** Higher ranks see a release no later than lower ones. */
  readonly rank: number;
  readonly perMonthMinor: number;
  readonly archived: boolean;
  /** How many support at it today. */
  readonly count: number;
}

export interface SupporterSpan {
  readonly id: string;
  readonly levelId: string;
  readonly levelName: string;
  /** Null: since before these books. */
  readonly from: string | null;
  /** First day without it; null: still. */
  readonly until: string | null;
}

export interface BuyerPage extends BuyerRow {
  /** Lines of the invoice address as they are printed, the name left out. */
  readonly lines: readonly string[];
  readonly addresses: readonly (DeliveryAddress & { readonly lines: readonly string[] })[];
  readonly support: readonly SupporterSpan[];
  readonly sales: readonly SaleRow[];
  readonly invoices: readonly InvoiceRow[];
  /** Still to pay on invoices. */
  readonly owedMinor: number;
  /** Paid too much, to give back. */
  readonly toGiveBackMinor: number;
  /** Names of entries that were put together with this one. */
  readonly mergedNames: readonly string[];
}

interface SupporterMonth {
  /** First day of the month. */
  readonly month: string;
  readonly on: string;
  readonly count: number;
  readonly minor: number;
}

export interface Supporters {
  readonly people: readonly {
    readonly buyerId: string;
    readonly name: string;
    readonly email: string;
    readonly levelId: string;
    readonly levelName: string;
    readonly perMonthMinor: number;
    readonly from: string | null;
    readonly until: string | null;
  }[];
  readonly months: readonly SupporterMonth[];
  /** Began before the books, so that the first months may count too few. */
  readonly sinceBefore: number;
}

/** Two entries that may be one person. */
export interface BuyerPair {
  readonly a: BuyerRow;
  readonly b: BuyerRow;
  readonly why: readonly ('email' | 'phone' | 'name' | 'address')[];
}

/** What forgetting a person would do. */
export interface EraseLook {
  readonly name: string;
  /** What must be settled first, each a sentence. */
  readonly obstacles: readonly string[];
  /** What goes. */
  readonly goes: readonly string[];
  /** What stays, and why. */
  readonly stays: readonly string[];
}

/** What putting one entry into another would do, each a sentence. */
export interface MergeLook {
  /** What will stand under the entry that stays. */
  readonly moves: readonly string[];
  /** What keeps the other name, or goes, and why. */
  readonly stays: readonly string[];
}

/** One buyer with all that leaves the program in an exchange file. */
export interface BuyerExport extends Buyer {
  readonly taxPlace: string;
  readonly supporterSince: string | null;
  readonly addresses: readonly DeliveryAddress[];
}

/** Fields of a buyer that can be taken from the other entry. */
const mergeFields = ['name', 'email', 'phone', 'address', 'taxPlace', 'taxNumber', 'language'] as const;
export type MergeField = (typeof mergeFields)[number];

const country = z
  .string()
  .trim()
  .toUpperCase()
  .regex(/^([A-Z]{2})?$/, 'Write the country as its two letters, for example US or DE.')
  .default('');

const addressFields = {
  address: f.longText.default(''),
  city: f.shortText.default(''),
  region: f.shortText.default(''),
  postcode: f.shortText.default(''),
  country,
};

/** Every call of buyers in full: addresses, supporter levels, merging, forgetting, exchange. */
export const buyerEndpoints = {
  'selling.buyers': query(
    z.strictObject({ text: f.shortText.default(''), includeArchived: z.boolean().default(false), ...f.page }),
  )<f.Page<BuyerRow>>(),
  /** One buyer; of an entry that was put together with another, the one that was kept. */
  'selling.buyer': query(z.strictObject({ id: f.id }))<BuyerPage>(),
  'selling.saveBuyer': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      email: f.shortText.default(''),
      phone: f.shortText.default(''),
      ...addressFields,
      taxPlaceId: f.id.nullable().default(null),
      taxNumber: f.shortText.default(''),
      language: z
        .string()
        .trim()
        .regex(/^([a-z]{2,3})?$/, 'Choose a language.')
        .default(''),
      firstContactOn: f.isoDate.nullable().default(null),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<Buyer>(),
  'buyers.saveAddress': command(
    z.strictObject({
      id: f.id.optional(),
      buyerId: f.id,
      label: f.requiredText,
      recipient: f.shortText.default(''),
      ...addressFields,
      archived: z.boolean().default(false),
    }),
  )<DeliveryAddress>(),
  'buyers.levels': query(z.strictObject({}))<readonly SupporterLevel[]>(),
  'buyers.saveLevel': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      rank: z
        .int('Write a whole number.')
        .min(1, 'The lowest rank is 1.')
        .max(99, 'Ninety-nine ranks are enough.'),
      perMonthMinor: f.minorPositive,
      archived: z.boolean().default(false),
    }),
  )<SupporterLevel>(),
  /** Begins support, or raises or lowers it, from a day on. */
  'buyers.support': command(z.strictObject({ buyerId: f.id, levelId: f.id, from: f.isoDate.nullable() }))<
    readonly SupporterSpan[]
  >(),
  'buyers.endSupport': command(z.strictObject({ buyerId: f.id, until: f.isoDate }))<
    readonly SupporterSpan[]
  >(),
  /** Mends a time that was entered wrong. */
  'buyers.saveSpan': command(
    z.strictObject({
      id: f.id,
      levelId: f.id,
      from: f.isoDate.nullable(),
      until: f.isoDate.nullable(),
    }),
  )<readonly SupporterSpan[]>(),
  'buyers.dropSpan': command(z.strictObject({ id: f.id }))<readonly SupporterSpan[]>(),
  /** Who supports today, and how many did at the end of each month. */
  'buyers.supporters': query(z.strictObject({}))<Supporters>(),
  'buyers.twins': query(z.strictObject({}))<readonly BuyerPair[]>(),
  /** Says that two entries that look like one person are two: the pair is not shown again. */
  'buyers.keepApart': command(z.strictObject({ oneId: f.id, otherId: f.id }))<null>(),
  /** Puts two entries of one person together; everything of the other shows under the one kept. */
  'buyers.merge': command(
    z.strictObject({
      keepId: f.id,
      otherId: f.id,
      /** Taken from the other entry; all else stays as it is on the one kept. Notes are joined. */
      take: z.array(z.enum(mergeFields)).max(20).default([]),
    }),
  )<Buyer>(),
  /** What that would move. Changes nothing. */
  'buyers.mergeLook': query(z.strictObject({ keepId: f.id, otherId: f.id }))<MergeLook>(),
  'buyers.eraseLook': query(z.strictObject({ id: f.id }))<EraseLook>(),
  /** Forgets a person at their wish; the books stay whole. */
  'buyers.erase': command(z.strictObject({ id: f.id }))<Buyer>(),
  /** All buyers as they leave the program. */
  'buyers.export': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<
    readonly BuyerExport[]
  >(),
} as const;

/** Contract of quotes: what a wished-for knife would take, four views of its price, and what was told to the buyer. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { FileOut } from './costs.ts';
import type { OrderOption, OrderState } from './orders.ts';

/** A figure with where it comes from. Minor unit. */
export interface QuotePart {
  readonly label: string;
  readonly how: string;
  readonly minor: number;
}

/** The middle of some figures and the half of them around it. */
export interface QuoteSpread {
  readonly low: number;
  readonly middle: number;
  readonly high: number;
  readonly knives: number;
}

/** An own knife near to the one wished for. */
export interface QuoteKnife {
  readonly buildId: string;
  readonly serial: string;
  readonly modelName: string;
  readonly finishedOn: string;
  readonly bladeNm: number | null;
  /** In words, e.g. "same model, other finish". */
  readonly near: string;
  readonly minutes: number;
  /** The same knife at the place of the next one; as booked where nothing is known of practice. */
  readonly practisedMinutes: number;
  readonly directMinor: number;
}

const hourBases = ['practised', 'booked'] as const;
const compared = ['nearest', 'model', 'family'] as const;

export interface QuoteHours {
  readonly minutes: number;
  readonly from: 'practised' | 'booked' | 'usual' | 'yours' | 'guessed';
  /** Where they come from, in a sentence. */
  readonly how: string;
  /** As booked; null without own knives. */
  readonly booked: QuoteSpread | null;
  /** At the place of the next one; null where nothing is known of practice. */
  readonly practised: QuoteSpread | null;
  /** What practice does to the next one, in a sentence. */
  readonly practice: string;
  readonly extraMinutes: number;
  /** The maker's guess of three points; left out where none was made. */
  readonly guess?: {
    readonly leastMinutes: number;
    readonly likelyMinutes: number;
    readonly mostMinutes: number;
    /** Standard deviation. */
    readonly sdMinutes: number;
  };
}

/** What an hour is reckoned at. Millionths of the currency unit. */
export interface QuoteRate {
  readonly perHourMicro: number;
  /** In force since; null where it was written here, or none is set. */
  readonly from: string | null;
  readonly how: string;
}

/** One view of the price. */
export interface QuoteView {
  /** Null where it cannot be said. */
  readonly totalMinor: number | null;
  /** For the knife alone: the total less options and special material. */
  readonly priceMinor: number | null;
  /** Where it comes from, or why it cannot be said. */
  readonly how: string;
  /** Add up to the total. */
  readonly parts: readonly QuotePart[];
}

export interface SizedSale {
  readonly serial: string;
  readonly sizeMm: number;
  readonly priceMinor: number;
}

export interface QuoteSale {
  readonly serial: string;
  readonly on: string;
  readonly priceMinor: number;
  /** From finished to sold; null for a knife made to order. */
  readonly days: number | null;
}

export interface QuoteReckoning {
  readonly model: { readonly id: string; readonly code: string; readonly name: string };
  /** What was wished for, filled up from the model. */
  readonly bladeNm: number | null;
  readonly steel: string;
  readonly finish: string;
  readonly method: string;
  readonly nearest: readonly QuoteKnife[];
  readonly nearestHow: string;
  readonly hours: QuoteHours;
  /** Goods for one knife at what they would cost today. */
  readonly directMinor: number;
  readonly direct: readonly QuotePart[];
  readonly directHow: string;
  /** What the nearest ones took; null without own knives. */
  readonly directBefore: QuoteSpread | null;
  readonly extraCostMinor: number;
  readonly labour: QuoteRate;
  readonly overhead: QuoteRate;
  readonly channel: { readonly id: string; readonly name: string; readonly how: string };
  readonly taxPlace: {
    readonly id: string;
    readonly name: string;
    readonly ratePpm: number;
    readonly inclusive: boolean;
  };
  readonly shippingMinor: number;
  readonly shippingHow: string;
  readonly postageMinor: number;
  readonly postageHow: string;
  readonly optionsMinor: number;
  readonly specialMinor: number;
  /** At the rate wished for. */
  readonly floor: QuoteView;
  /** The floor at both ends of a guess of the hours; left out without one, null where it cannot be said. */
  readonly floorSpan?: { readonly leastMinor: number | null; readonly mostMinor: number | null };
  /** By size. */
  readonly line: QuoteView & { readonly sales: readonly SizedSale[] };
  /** List price and options. */
  readonly base: QuoteView;
  /** What the last ones went for. */
  readonly fetched: QuoteView & {
    readonly sales: readonly QuoteSale[];
    readonly spread: QuoteSpread | null;
    /** Days from finished to sold. */
    readonly days: QuoteSpread | null;
  };
  /** Null where no day can be named; `leadHow` then says why. */
  readonly lead: {
    /** Even if nothing else were made. */
    readonly earliestOn: string;
    readonly halfOn: string;
    readonly likelyOn: string;
    readonly sayOn: string;
  } | null;
  readonly leadHow: string;
  /** What the price named leaves; null while none is named. */
  readonly named: {
    readonly totalMinor: number;
    readonly netMinor: number;
    readonly taxMinor: number;
    readonly grossMinor: number;
    readonly feeMinor: number;
    /** After goods, postage and fee: for hours, overhead and yourself. */
    readonly leftMinor: number;
    /** For an hour at the bench, overhead taken off; null without hours. */
    readonly perHourMinor: number | null;
    readonly parts: readonly QuotePart[];
  } | null;
  /** What to think twice about. */
  readonly warnings: readonly string[];
}

export type QuoteState = 'open' | 'lapsed' | 'offered' | 'closed';

export interface QuoteRow {
  readonly id: string;
  /** E.g. `Q-0007`. */
  readonly tag: string;
  readonly state: QuoteState;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly modelId: string;
  readonly modelName: string;
  readonly on: string;
  readonly validUntil: string;
  /** Knife, options and special material. */
  readonly totalMinor: number;
  readonly promisedOn: string | null;
  readonly orderId: string | null;
  readonly orderTag: string | null;
}

export interface QuoteDetail extends QuoteRow {
  readonly wish: string;
  readonly priceMinor: number;
  readonly specialMinor: number;
  readonly shippingMinor: number;
  readonly abroad: boolean;
  readonly options: readonly OrderOption[];
  readonly note: string;
  readonly takenOn: string | null;
  readonly closedOn: string | null;
  readonly closeReason: string;
  readonly orderState: OrderState | null;
  /** As asked, to begin another one from. */
  readonly asked: QuoteAsked;
  /** As reckoned on its day. */
  readonly working: QuoteReckoning;
}

const option = z.strictObject({
  optionId: f.id.nullable().default(null),
  name: f.requiredText,
  priceMinor: z.int('Write an amount of money.').min(-1e12).max(1e12),
});

const guessedMinutes = z
  .int('Write a time, for example 16 h.')
  .min(1, 'A knife takes at least a minute.')
  .max(60_000)
  .nullable()
  .default(null);

const askedFields = {
  modelId: f.id,
  /** Left out: as the model. */
  bladeNm: f.blade.nullable().default(null),
  steel: f.shortText.default(''),
  finish: f.shortText.default(''),
  /** Which own knives to compare with. */
  among: z.enum(compared).default('nearest'),
  /** Only knives finished since. */
  since: f.isoDate.nullable().default(null),
  hours: z.enum(hourBases).default('practised'),
  /** What the maker knows better; null lets the books speak. */
  minutes: guessedMinutes,
  /** Ends of a guess whose likeliest is `minutes`: at best and at worst. */
  leastMinutes: guessedMinutes,
  mostMinutes: guessedMinutes,
  directMinor: f.minorPositive.nullable().default(null),
  extraMinutes: z.int('Write a time, for example 1 h 30.').min(0).max(60_000).default(0),
  extraCostMinor: f.minorPositive.default(0),
  labourPerHourMicro: f.microPositive.nullable().default(null),
  overheadPerHourMicro: f.microPositive.nullable().default(null),
  options: z.array(option).max(40, 'Keep to forty options.').default([]),
  specialMinor: f.minorPositive.default(0),
  /** Left out: what the last one was charged. */
  shippingMinor: f.minorPositive.nullable().default(null),
  postageMinor: f.minorPositive.nullable().default(null),
  channelId: f.id.nullable().default(null),
  taxPlaceId: f.id.nullable().default(null),
  abroad: z.boolean().default(false),
  /** For the knife alone. */
  priceMinor: f.minorPositive.nullable().default(null),
  promisedOn: f.isoDate.nullable().default(null),
};

const asked = z.strictObject(askedFields);
export type QuoteAsked = z.output<typeof asked>;

/** Every call of quotes. */
export const quoteEndpoints = {
  'quotes.reckon': query(asked)<QuoteReckoning>(),
  'quotes.list': query(
    z.strictObject({
      text: f.shortText.default(''),
      show: z.enum(['open', 'lapsed', 'offered', 'closed', 'all']).default('all'),
      buyerId: f.id.optional(),
      /** Those that answer this wish, or became this order. */
      orderId: f.id.optional(),
      ...f.page,
    }),
  )<f.Page<QuoteRow>>(),
  'quotes.get': query(z.strictObject({ id: f.id }))<QuoteDetail>(),
  'quotes.pdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  /** Numbers a quote and keeps it with its whole working. */
  'quotes.keep': command(
    z.strictObject({
      ...askedFields,
      buyerId: f.id,
      /** The wish of the order book it answers. */
      orderId: f.id.nullable().default(null),
      wish: f.longText.default(''),
      on: f.isoDate,
      validUntil: f.isoDate,
      note: f.longText.default(''),
    }),
  )<QuoteDetail>(),
  /** Makes an offer of the order book from it, with price and promised day. */
  'quotes.offer': command(z.strictObject({ id: f.id, on: f.isoDate }))<{
    readonly orderId: string;
    readonly orderTag: string;
  }>(),
  'quotes.close': command(z.strictObject({ id: f.id, on: f.isoDate, reason: f.requiredText }))<QuoteDetail>(),
} as const;

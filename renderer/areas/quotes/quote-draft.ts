/** A quote while it is being written. */
import type { Input } from '../../../electron/api/contract.ts';
import type { QuoteAsked } from '../../../electron/api/quotes.ts';
import { addDays } from '../../../electron/domain/calendar.ts';
import { missingNumber } from '../../lib/form.svelte.ts';
import { shop } from '../../lib/shop.svelte.ts';
import { type OptionDraft, optionDraftOf, writtenOptions } from '../builds/option-draft.ts';

/** Common practice, no source. */
const VALID_DAYS = 30;

export interface QuoteDraft {
  buyerId: string;
  orderId: string | null;
  modelId: string;
  wish: string;
  bladeNm: number | undefined;
  steel: string;
  finish: string;
  among: QuoteAsked['among'];
  since: string;
  hours: QuoteAsked['hours'];
  minutes: number | undefined;
  /** Ends of a guess around them. */
  leastMinutes: number | undefined;
  mostMinutes: number | undefined;
  direct: number | undefined;
  extraMinutes: number | undefined;
  extraCost: number | undefined;
  labour: number | undefined;
  overhead: number | undefined;
  options: OptionDraft[];
  special: number | undefined;
  shipping: number | undefined;
  postage: number | undefined;
  channelId: string;
  taxPlaceId: string;
  abroad: boolean;
  price: number | undefined;
  promisedOn: string;
  on: string;
  validUntil: string;
  note: string;
}

export const blankQuote = (): QuoteDraft => ({
  buyerId: '',
  orderId: null,
  modelId: '',
  wish: '',
  bladeNm: undefined,
  steel: '',
  finish: '',
  among: 'nearest',
  since: '',
  hours: 'practised',
  minutes: undefined,
  leastMinutes: undefined,
  mostMinutes: undefined,
  direct: undefined,
  extraMinutes: undefined,
  extraCost: undefined,
  labour: undefined,
  overhead: undefined,
  options: [],
  special: undefined,
  shipping: undefined,
  postage: undefined,
  channelId: '',
  taxPlaceId: '',
  abroad: false,
  price: undefined,
  promisedOn: '',
  on: shop.today,
  validUntil: addDays(shop.today, VALID_DAYS),
  note: '',
});

/** What was asked before, to begin another one from; days and price are named anew. */
export const draftLike = (asked: QuoteAsked): Partial<QuoteDraft> => ({
  modelId: asked.modelId,
  bladeNm: asked.bladeNm ?? undefined,
  steel: asked.steel,
  finish: asked.finish,
  among: asked.among,
  since: asked.since ?? '',
  hours: asked.hours,
  minutes: asked.minutes ?? undefined,
  leastMinutes: asked.leastMinutes ?? undefined,
  mostMinutes: asked.mostMinutes ?? undefined,
  direct: asked.directMinor ?? undefined,
  extraMinutes: asked.extraMinutes === 0 ? undefined : asked.extraMinutes,
  extraCost: asked.extraCostMinor === 0 ? undefined : asked.extraCostMinor,
  labour: asked.labourPerHourMicro ?? undefined,
  overhead: asked.overheadPerHourMicro ?? undefined,
  options: asked.options.map(optionDraftOf),
  special: asked.specialMinor === 0 ? undefined : asked.specialMinor,
  shipping: asked.shippingMinor ?? undefined,
  postage: asked.postageMinor ?? undefined,
  channelId: asked.channelId ?? '',
  taxPlaceId: asked.taxPlaceId ?? '',
  abroad: asked.abroad,
});

const orNull = (text: string): string | null => (text === '' ? null : text);

const written = (value: number | undefined): boolean => value !== undefined && !Number.isNaN(value);

/** Ends of a guess of the hours; one that lacks a point is not reckoned with yet. */
const guessIn = ({ leastMinutes, minutes, mostMinutes }: QuoteDraft) =>
  [leastMinutes, minutes, mostMinutes].every(written)
    ? { leastMinutes: leastMinutes ?? null, mostMinutes: mostMinutes ?? null }
    : {};

/** What the reckoning takes; an option half written does not count yet. */
export const askedOf = (draft: QuoteDraft): Input<'quotes.reckon'> => ({
  modelId: draft.modelId,
  bladeNm: draft.bladeNm ?? null,
  steel: draft.steel,
  finish: draft.finish,
  among: draft.among,
  since: orNull(draft.since),
  hours: draft.hours,
  minutes: draft.minutes ?? null,
  ...guessIn(draft),
  directMinor: draft.direct ?? null,
  extraMinutes: draft.extraMinutes ?? 0,
  extraCostMinor: draft.extraCost ?? 0,
  labourPerHourMicro: draft.labour ?? null,
  overheadPerHourMicro: draft.overhead ?? null,
  options: draft.options.flatMap(({ optionId, name, priceMinor }) =>
    name.trim() === '' || priceMinor === undefined ? [] : [{ optionId, name, priceMinor }],
  ),
  specialMinor: draft.special ?? 0,
  shippingMinor: draft.shipping ?? null,
  postageMinor: draft.postage ?? null,
  channelId: orNull(draft.channelId),
  taxPlaceId: orNull(draft.taxPlaceId),
  abroad: draft.abroad,
  priceMinor: draft.price ?? null,
  promisedOn: orNull(draft.promisedOn),
});

/** What is kept. */
export const keptOf = (draft: QuoteDraft): Input<'quotes.keep'> => ({
  ...askedOf(draft),
  leastMinutes: draft.leastMinutes ?? null,
  mostMinutes: draft.mostMinutes ?? null,
  options: writtenOptions(draft.options).map(({ optionId, name, priceMinor }) => ({
    optionId,
    name,
    priceMinor: priceMinor ?? missingNumber,
  })),
  buyerId: draft.buyerId,
  orderId: draft.orderId,
  wish: draft.wish,
  on: draft.on,
  validUntil: draft.validUntil,
  note: draft.note,
});

/** Contract of what to make next, and of what prices did. */
import { z } from 'zod';
import type { NextStanding, Quartiles } from '../domain/next-up.ts';
import type { OfferSum, PriceChange } from '../domain/price-review.ts';
import { query } from './endpoint.ts';
import * as f from './fields.ts';
import type { ItemForm } from './stock.ts';

interface Named {
  readonly itemId: string;
  readonly itemName: string;
}

/** One model with all that speaks for or against making it next. Amounts in the minor unit. */
export interface NextRow {
  readonly modelId: string;
  readonly code: string;
  readonly name: string;
  readonly family: string;
  readonly method: string;
  readonly standing: NextStanding;
  readonly listMinor: number | null;
  /** Knives sold and not taken back. */
  readonly sold: number;
  /** Left of all sold ones for each bench hour. */
  readonly perHourMinor: number | null;
  /** The same, knife by knife. */
  readonly hourEach: Quartiles | null;
  /** Less the overhead of a bench hour on the day of each sale. */
  readonly afterOverheadMinor: number | null;
  /** Bench minutes of the finished ones. */
  readonly minutes: Quartiles | null;
  /** Of those, middle of what pictures, listing, packing and letters took. */
  readonly aroundMinutes: number;
  /** Days from the first offer to the sale; knives made for an order are left out. */
  readonly days: Quartiles | null;
  readonly promised: number;
  readonly asked: number;
  /** People with a quote that holds and no wish. */
  readonly quoted: number;
  readonly coming: number;
  readonly unsold: number;
  /** Days the one offered longest has been unsold. */
  readonly unsoldDays: number | null;
  /** Knives that steel, handle and other goods on the rack are enough for beside those that are open; null for a model without such parts. */
  readonly canMake: number | null;
  /** The goods that end it. */
  readonly endsWith: readonly Named[];
  /** Small things not even one knife has enough of: sundries, consumables, packaging. */
  readonly buyFirst: readonly Named[];
}

export interface NextKnife {
  readonly buildId: string;
  readonly serial: string;
  readonly method: string;
  readonly minutes: number;
  readonly finishedOn: string;
  readonly soldOn: string | null;
  readonly second: boolean;
  readonly forOrder: boolean;
  readonly contributionMinor: number | null;
  readonly perHourMinor: number | null;
  readonly days: number;
}

/** One model with its working. */
export interface NextDetail {
  readonly row: NextRow;
  readonly knives: readonly NextKnife[];
  /** The same hour told apart by how the knives were finished. */
  readonly finishes: readonly {
    readonly method: string;
    readonly sold: number;
    readonly perHourMinor: number | null;
    readonly hourEach: Quartiles | null;
  }[];
  readonly parts: readonly {
    readonly itemId: string;
    readonly itemName: string;
    readonly form: ItemForm;
    readonly unit: string;
    readonly pieceWord: string;
    readonly perKnifeQty: number;
    readonly onRackQty: number;
    readonly spokenForQty: number;
    readonly enoughFor: number;
    /** Goods that make the knife, not sundries drawn by worth, consumables or packaging. */
    readonly main: boolean;
  }[];
}

/** A price of a model and how the knives first offered under it went. */
export interface PriceSpan extends OfferSum {
  readonly from: string;
  readonly until: string | null;
  readonly priceMinor: number;
  /** Against the price before; null for the first. */
  readonly changePpm: number | null;
}

export interface PriceReview {
  readonly changes: readonly PriceChange[];
  readonly models: readonly {
    readonly modelId: string;
    readonly code: string;
    readonly name: string;
    readonly spans: readonly PriceSpan[];
  }[];
  /** Knives whose time says something about their price. */
  readonly told: readonly {
    readonly buildId: string;
    readonly serial: string;
    readonly modelName: string;
    readonly askedMinor: number | null;
    readonly offeredOn: string;
    readonly soldOn: string | null;
    readonly days: number;
    /** From the opening of its release. */
    readonly minutes: number | null;
    readonly hint: 'atOnce' | 'long';
  }[];
}

/** Every call of what to make next. */
export const nextEndpoints = {
  'next.list': query(z.strictObject({}))<readonly NextRow[]>(),
  'next.model': query(z.strictObject({ modelId: f.id }))<NextDetail>(),
  'next.prices': query(z.strictObject({}))<PriceReview>(),
} as const;

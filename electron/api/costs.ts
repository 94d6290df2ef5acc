/** Contract of the cost sheet: what one knife cost, what it brought, and the working behind every figure. */
import { z } from 'zod';
import { query } from './endpoint.ts';
import * as f from './fields.ts';
import type { Rung } from './builds.ts';

/** One entry behind a figure; `exactMicro` is unrounded so that the working can be added up by hand. */
export interface Working {
  readonly on: string;
  readonly label: string;
  /** How it was reckoned, e.g. "1/6 of a 48 in bar at 24.00" or "410 min × 35.00/h". */
  readonly how: string;
  readonly exactMicro: number;
  readonly rung: Rung | null;
  /** Where it can be opened. */
  readonly source: {
    readonly kind:
      'lot' | 'movement' | 'charge' | 'session' | 'rate' | 'sale' | 'invoice' | 'making' | 'opening';
    readonly id: string;
  } | null;
}

export interface SheetLine {
  readonly key: string;
  readonly label: string;
  /** Rounded once; the totals add these. */
  readonly amountMinor: number;
  readonly exactMicro: number;
  readonly note: string;
  readonly working: readonly Working[];
}

export interface StageHours {
  readonly code: string;
  readonly name: string;
  readonly minutes: number;
  readonly guessedMinutes: number;
  /** Minutes at the rates in force, rounded once; the labour line adds these. */
  readonly labourMinor: number;
  readonly working: readonly Working[];
}

export interface CostSheet {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly modelCode: string;
  readonly modelName: string;
  readonly state: string;
  readonly currency: string;
  readonly decimals: number;
  readonly asOf: string;
  readonly materials: readonly SheetLine[];
  readonly materialsMinor: number;
  readonly consumables: SheetLine;
  readonly energy: SheetLine;
  /** Labour of shop-made materials in this knife, shown apart from its own hours. Zero minutes where there is none. */
  readonly madeLabour: SheetLine & { readonly minutes: number };
  readonly packaging: SheetLine;
  readonly directMinor: number;
  readonly stages: readonly StageHours[];
  readonly minutes: number;
  readonly guessedMinutes: number;
  readonly labour: SheetLine;
  readonly overhead: SheetLine;
  /** Null while unsold; then list price stands in as `asked`. */
  readonly sale: {
    readonly on: string;
    readonly buyerName: string;
    readonly channelName: string;
    readonly priceMinor: number;
    readonly shippingMinor: number;
    readonly taxMinor: number;
    readonly postage: SheetLine;
    readonly fee: SheetLine;
    readonly contributionMinor: number;
    /** Null when no hours are booked. */
    readonly contributionPerHourMinor: number | null;
    /** Contribution less overhead, per hour: what the hour really earned before own taxes. */
    readonly earnedPerHourMinor: number | null;
    /** What is left after paying the maker's own rate and overhead. */
    readonly leftAtRateMinor: number;
    /** In parts per million of price and shipping; null at a price of zero. */
    readonly marginAtRatePpm: number | null;
  } | null;
  readonly askedMinor: number | null;
  /** The three views, kept apart on purpose. */
  readonly views: {
    readonly moneyOutMinor: number;
    readonly atOwnRateMinor: number;
    readonly inventoryValueMinor: number;
  };
  /** What is missing or guessed: no hours yet, no rate in force, consumables still flat. */
  readonly remarks: readonly string[];
}

export interface FileOut {
  readonly name: string;
  readonly mime: string;
  readonly base64: string;
}

/** Every call of the cost sheet. */
export const costEndpoints = {
  'costs.sheet': query(z.strictObject({ buildId: f.id }))<CostSheet>(),
  'costs.sheetPdf': query(z.strictObject({ buildId: f.id }))<FileOut>(),
} as const;

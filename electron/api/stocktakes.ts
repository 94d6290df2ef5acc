/** Contract of stocktakes: what lay there at the end of a day, counted place by place, valued at cost, and kept. */
import { z } from 'zod';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { ItemForm, ItemKind } from './stock.ts';

export type StocktakeState = 'open' | 'finished' | 'dropped';
/** Why a count differs from the books. */
const differenceReasons = [
  'lost',
  'damaged',
  /** Used, and never written down. */
  'unbooked',
  /** Counted or entered wrongly before. */
  'miscounted',
  'found',
  'other',
] as const;
export type DifferenceReason = (typeof differenceReasons)[number];
/** Where a finished knife is on the day. */
const whereabouts = ['here', 'consignment', 'away', 'notSeen'] as const;
export type Whereabouts = (typeof whereabouts)[number];
/** How a line stands: not counted; all who counted say the same; they do not; the books of the day moved since. */
export type LineState = 'uncounted' | 'agreed' | 'apart' | 'moved';

/** Values in millionths at cost, own labour at zero. */
export interface StocktakeTotals {
  readonly materialsMicro: number;
  readonly suppliesMicro: number;
  /** Opened and not yet shared over knives, oil in tanks. */
  readonly openedMicro: number;
  readonly inWorkMicro: number;
  readonly finishedMicro: number;
  readonly totalMicro: number;
}

export interface StocktakeHead {
  readonly id: string;
  /** Short name, e.g. `ST3`. */
  readonly tag: string;
  readonly on: string;
  readonly state: StocktakeState;
  /** Empty: the whole workshop. */
  readonly places: readonly string[];
  readonly note: string;
  readonly startedAt: string;
  readonly endedAt: string | null;
  readonly lines: number;
  readonly counted: number;
  /** Kept when it was finished; null before. */
  readonly totalMicro: number | null;
  readonly differenceMicro: number | null;
}

export interface StocktakeLine {
  readonly id: string;
  readonly number: number;
  readonly place: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly kind: ItemKind;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  readonly lots: readonly {
    readonly id: string;
    readonly tag: string;
    readonly heatNumber: string;
    readonly receivedOn: string;
  }[];
  readonly bookedQty: number;
  readonly bookedMicro: number;
  /** What came and went between the day and now, by the books. */
  readonly sinceQty: number;
  /** True where stock falls when one is opened: only unopened ones are counted. */
  readonly fallsByOpening: boolean;
  /** In use on the day; what is left of each, where it was judged. */
  readonly opened: readonly {
    readonly id: string;
    readonly on: string;
    readonly qty: number;
    readonly leftPpm: number | null;
  }[];
  readonly dull: number;
  readonly counts: readonly {
    /** Null for the maker. */
    readonly who: string | null;
    readonly name: string;
    readonly qty: number;
    readonly at: string;
    /** The books of the day said something else when it was counted. */
    readonly moved: boolean;
  }[];
  readonly state: LineState;
  /** As it lay at the end of the day; null while nobody counted, and where the books were taken over. */
  readonly countedQty: number | null;
  readonly differenceQty: number;
  /** At cost; until it is finished, as it would be booked now. */
  readonly differenceMicro: number;
  readonly reason: DifferenceReason | null;
  readonly reasonNote: string;
}

export interface StocktakeKnife {
  readonly id: string;
  readonly serial: string;
  readonly name: string;
  readonly state: 'inWork' | 'finished';
  readonly whereabouts: Whereabouts;
  readonly withWhom: string;
  readonly heldFor: string;
  readonly valueMicro: number;
}

export interface Stocktake extends StocktakeHead {
  readonly sheet: readonly StocktakeLine[];
  readonly knives: readonly StocktakeKnife[];
  /** Opened things, oil in tanks and makings under way. */
  readonly others: readonly {
    readonly kind: 'opened' | 'bath' | 'making';
    readonly label: string;
    readonly valueMicro: number;
  }[];
  /** By the books before any difference. */
  readonly bookedMicro: number;
  readonly totals: StocktakeTotals;
  /** Lots that lay there on the day by the books and are on no line: written down after the sheet was made. */
  readonly missing: readonly { readonly lotId: string; readonly tag: string; readonly itemName: string }[];
  /** What the books say of that day now, where bookings since it was finished changed it; null where they agree. */
  readonly booksNowMicro: number | null;
}

const person = f.id.nullable().default(null);

/** Every call of stocktakes. */
export const stocktakeEndpoints = {
  'stocktake.list': query(z.strictObject({}))<readonly StocktakeHead[]>(),
  'stocktake.get': query(z.strictObject({ id: f.id }))<Stocktake>(),
  /** Places at which something lay at the end of a day, with how many lots. */
  'stocktake.places': query(z.strictObject({ on: f.isoDate }))<
    readonly { readonly place: string; readonly lots: number }[]
  >(),
  /** Makes the sheet of a day. No places: the whole workshop, knives included. */
  'stocktake.start': command(
    z.strictObject({
      on: f.isoDate,
      places: z.array(f.shortText).max(200).default([]),
      note: f.longText.default(''),
    }),
  )<Stocktake>(),
  /** What one person counted of a line; once more replaces it. */
  'stocktake.count': command(
    z.strictObject({
      lineId: f.id,
      who: person,
      qty: f.quantityOrZero,
      /** What is left of those in use. */
      opened: z
        .array(z.strictObject({ id: f.id, leftPpm: f.ratePpm }))
        .max(50)
        .default([]),
      /** As it lay at the end of the day, or as it lies there now: what moved since is then taken off. */
      lies: z.enum(['then', 'now']).default('then'),
    }),
  )<StocktakeLine>(),
  'stocktake.uncount': command(z.strictObject({ lineId: f.id, who: person }))<StocktakeLine>(),
  'stocktake.reason': command(
    z.strictObject({
      lineId: f.id,
      reason: z.enum(differenceReasons).nullable(),
      note: f.shortText.default(''),
    }),
  )<StocktakeLine>(),
  'stocktake.knife': command(
    z.strictObject({
      id: f.id,
      buildId: f.id,
      whereabouts: z.enum(whereabouts),
      withWhom: f.shortText.default(''),
    }),
  )<Stocktake>(),
  /** Puts on the sheet what was written down since, or one lot that the books hold for empty. */
  'stocktake.add': command(z.strictObject({ id: f.id, lotId: f.id.optional() }))<Stocktake>(),
  'stocktake.finish': command(
    z.strictObject({
      id: f.id,
      /** Lines nobody counted: refuse, or take over what the books say. */
      uncounted: z.enum(['refuse', 'asBooked']).default('refuse'),
    }),
  )<Stocktake>(),
  /** Ends it without booking anything. */
  'stocktake.drop': command(z.strictObject({ id: f.id, reason: f.requiredText }))<StocktakeHead>(),
  /** The sheet to write on, in the language of the maker's papers. */
  'stocktake.sheetPdf': query(
    z.strictObject({ id: f.id, withBooked: z.boolean().default(false) }),
  )<FileOut>(),
  'stocktake.resultPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
};

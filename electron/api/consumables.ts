/** Contract of the Consumables area: openings, the dull peg, how long things last, and the ladder the figures stand on. */
import { z } from 'zod';
import type { Rung } from './builds.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { ItemRow } from './stock.ts';

/** In use; on the dull peg for a second life that costs nothing; gone; or opened by mistake. */
export const openingStates = ['inUse', 'dull', 'gone', 'takenBack'] as const;
export type OpeningState = (typeof openingStates)[number];

export interface Opening {
  readonly id: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly grit: string;
  readonly lotId: string | null;
  readonly lotTag: string | null;
  readonly supplierName: string | null;
  readonly openedAt: string;
  readonly on: string;
  readonly stageCode: string | null;
  readonly stageName: string | null;
  readonly qty: number;
  /** What it cost; zero where its stock falls by use. */
  readonly valueMicro: number;
  readonly state: OpeningState;
  readonly bluntOn: string | null;
  readonly endedOn: string | null;
  readonly note: string;
  readonly builds: readonly {
    readonly id: string;
    readonly serial: string;
    readonly weight: number;
    readonly valueMicro: number;
  }[];
}

/** How long one kind lasts: knives per opening. */
export interface Life {
  readonly n: number;
  readonly mean: number;
  readonly median: number;
  /** Sample standard deviation; null below two. */
  readonly sd: number | null;
  readonly least: number;
  readonly most: number;
}

export interface ShelfRow extends ItemRow {
  readonly inUse: readonly Opening[];
  readonly dull: number;
  /** Knives per finished opening; null while none is finished. */
  readonly life: Life | null;
  /** Average particle size in micrometres by its own scale; null where unknown. */
  readonly micrometres: number | null;
}

export interface LifeRow extends Life {
  readonly itemId: string;
  readonly itemName: string;
  readonly grit: string;
  /** Empty where all suppliers are taken together. */
  readonly supplierName: string;
  readonly perKnifeMicro: number;
  /** A plain word when there are too few to say. */
  readonly remark: string;
}

/** One consumable of a model with every step of the ladder that can be stood on. */
export interface LadderRow {
  readonly partId: string | null;
  readonly flatId: string | null;
  readonly label: string;
  readonly itemId: string | null;
  readonly rung: Rung;
  readonly steps: readonly {
    readonly rung: Rung;
    /** Null where nothing is known on this step. */
    readonly costMicro: number | null;
    readonly qty: number | null;
    readonly n: number | null;
    readonly sdQty: number | null;
    readonly words: string;
  }[];
}

const share = z.strictObject({ buildId: f.id, weight: z.int().min(1).max(1000).default(1) });
const shares = z.array(share).max(100);

/** Every call of the Consumables area. */
export const consumableEndpoints = {
  'consumables.shelf': query(z.strictObject({ text: f.shortText.default('') }))<readonly ShelfRow[]>(),
  /** A new one on. Its cost is shared over the knives named; with none it waits to be shared. */
  'consumables.open': command(
    z.strictObject({
      itemId: f.id,
      lotId: f.id.optional(),
      on: f.isoDate,
      stageCode: z.string().min(2).max(6).nullable().default(null),
      shares: shares.default([]),
      /** One piece, one sheet, when left out. */
      qty: f.quantity.optional(),
      note: f.longText.default(''),
      /** The one it replaces goes to the dull peg. */
      replacesId: f.id.optional(),
    }),
  )<Opening>(),
  /** Shares an opening anew, over other knives or by other weights. */
  'consumables.share': command(
    z.strictObject({ openingId: f.id, shares, reason: f.shortText.default('') }),
  )<Opening>(),
  'consumables.peg': command(
    z.strictObject({ openingId: f.id, to: z.enum(['inUse', 'dull', 'gone']), on: f.isoDate }),
  )<Opening>(),
  'consumables.takeBack': command(z.strictObject({ openingId: f.id, reason: f.requiredText }))<Opening>(),
  'consumables.openings': query(
    z.strictObject({
      itemId: f.id.optional(),
      buildId: f.id.optional(),
      states: z.array(z.enum(openingStates)).default([]),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
      ...f.page,
    }),
  )<f.Page<Opening>>(),
  'consumables.life': query(
    z.strictObject({
      bySupplier: z.boolean().default(false),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
    }),
  )<readonly LifeRow[]>(),
  /** Counts one consumable over all its lots; the difference is overhead, or shared over the period's knives. */
  'consumables.count': command(
    z.strictObject({
      itemId: f.id,
      countedQty: f.quantityOrZero,
      on: f.isoDate,
      settle: z.enum(['overhead', 'builds']),
      /** First day of the period the difference belongs to. */
      from: f.isoDate,
      reason: f.requiredText,
    }),
  )<{
    readonly differenceQty: number;
    readonly differenceMicro: number;
    readonly builds: readonly {
      readonly id: string;
      readonly serial: string;
      readonly amountMicro: number;
    }[];
    readonly sentence: string;
  }>(),
  'consumables.ladder': query(z.strictObject({ modelId: f.id }))<readonly LadderRow[]>(),
  'consumables.setRung': command(
    z.strictObject({
      modelId: f.id,
      partId: f.id,
      rung: z.union([z.literal(2), z.literal(3), z.literal(4)]),
    }),
  )<readonly LadderRow[]>(),
} as const;

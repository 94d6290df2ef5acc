/** Contract of the cutting plan: which bars, offcuts and sheets to cut for the knives that wait for it. */
import { z } from 'zod';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** A blank a planned knife still needs. */
export interface CutNeed {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly partLabel: string;
  /** Nanometre, without kerf. */
  readonly length: number;
}

export interface PlannedCut {
  readonly key: string;
  readonly buildId: string | null;
  readonly label: string;
  readonly length: number;
  /** Where on what is left of the bar it begins, nanometre. */
  readonly from: number;
  readonly valueMicro: number;
}

export interface PlannedBar {
  readonly lotId: string;
  /** For how many blanks the model plans the whole bar; null where each blank pays for the length it takes. */
  readonly sharedBy: number | null;
  readonly tag: string;
  readonly heatNumber: string;
  readonly place: string;
  readonly before: number;
  readonly cuts: readonly PlannedCut[];
  readonly kerf: number;
  readonly left: number;
  /** False: shorter than the least useful remnant; its value rests in the blanks cut and the metal goes to the bin. */
  readonly leftUseful: boolean;
  readonly leftValueMicro: number;
}

export interface CuttingPlan {
  readonly itemId: string;
  readonly itemName: string;
  readonly bars: readonly PlannedBar[];
  readonly unplaced: readonly { readonly key: string; readonly label: string; readonly length: number }[];
  /** True: no other way wastes less. False: the best found in the steps allowed. */
  readonly exact: boolean;
  /** Metal that becomes nobody's blank and no useful remnant, nanometre. */
  readonly waste: number;
  readonly sentence: string;
}

export interface PlacedPiece {
  readonly key: string;
  readonly buildId: string | null;
  readonly label: string;
  readonly x: number;
  readonly y: number;
  readonly lengthNm: number;
  readonly widthNm: number;
  readonly turned: boolean;
  readonly valueMicro: number;
}

export interface PlannedSheet {
  readonly lotId: string;
  readonly tag: string;
  readonly place: string;
  readonly lengthNm: number;
  readonly widthNm: number;
  readonly pieces: readonly PlacedPiece[];
  /** Rectangles left by straight cuts from edge to edge. */
  readonly offcuts: readonly {
    readonly x: number;
    readonly y: number;
    readonly lengthNm: number;
    readonly widthNm: number;
    readonly useful: boolean;
    readonly valueMicro: number;
  }[];
  /** The cuts in the order to make them, in words. */
  readonly cuts: readonly string[];
}

export interface SheetPlan {
  readonly itemId: string;
  readonly itemName: string;
  readonly sheets: readonly PlannedSheet[];
  readonly unplaced: readonly { readonly key: string; readonly label: string }[];
  readonly exact: boolean;
  /** Square micrometre. */
  readonly waste: number;
  readonly sentence: string;
}

const key = z.string().min(1).max(64);
const barInput = z.strictObject({
  itemId: f.id,
  blanks: z
    .array(
      z.strictObject({
        key,
        buildId: f.id.nullable().default(null),
        label: f.shortText,
        length: f.quantity,
      }),
    )
    .min(1, 'Choose what to cut.')
    .max(200),
  kerf: f.quantityOrZero,
  /** Leave out for every bar and offcut of the item. */
  lotIds: z.array(f.id).max(200).optional(),
});
const sheetInput = z.strictObject({
  itemId: f.id,
  pieces: z
    .array(
      z.strictObject({
        key,
        buildId: f.id.nullable().default(null),
        label: f.shortText,
        lengthNm: f.quantity,
        widthNm: f.quantity,
        /** False where the grain or the weave must run along the length. */
        mayTurn: z.boolean().default(true),
      }),
    )
    .min(1, 'Choose what to cut.')
    .max(200),
  kerf: f.quantityOrZero,
  lotIds: z.array(f.id).max(60).optional(),
});

/** Every call of the cutting plan. */
export const cuttingEndpoints = {
  'cutting.needs': query(z.strictObject({ itemId: f.id }))<readonly CutNeed[]>(),
  'cutting.plan': query(barInput)<CuttingPlan>(),
  'cutting.planPdf': query(barInput)<FileOut>(),
  /** Books a plan as it was shown; refused whole when a bar has changed meanwhile. */
  'cutting.book': command(
    z.strictObject({
      itemId: f.id,
      on: f.isoDate,
      kerf: f.quantityOrZero,
      bars: z
        .array(
          z.strictObject({
            lotId: f.id,
            /** What the plan found on the rack, so that nothing is cut from a bar that changed. */
            before: f.quantity,
            cuts: z
              /** Without a knife the blank goes back on the rack as a lot of its own. */
              .array(z.strictObject({ buildId: f.id.nullable(), length: f.quantity }))
              .min(1)
              .max(200),
          }),
        )
        .min(1)
        .max(200),
    }),
  )<{ readonly movementIds: readonly string[]; readonly sentence: string }>(),
  'cutting.planSheets': query(sheetInput)<SheetPlan>(),
  'cutting.planSheetsPdf': query(sheetInput)<FileOut>(),
  /** Writes down how long and wide a sheet is; where the books have another area, they follow what was measured. */
  'cutting.sheetSize': command(
    z.strictObject({ lotId: f.id, lengthNm: f.quantity, widthNm: f.quantity, on: f.isoDate }),
  )<{ readonly sentence: string }>(),
  /** Cuts one sheet's pieces: for knives, or into stock of another item (scales by the pair). Offcuts become lots of their own. */
  'cutting.bookSheets': command(
    z.strictObject({
      itemId: f.id,
      on: f.isoDate,
      kerf: f.quantityOrZero,
      sheets: z
        .array(
          z.strictObject({
            lotId: f.id,
            lengthNm: f.quantity,
            widthNm: f.quantity,
            pieces: z
              .array(
                z.strictObject({
                  buildId: f.id.nullable().default(null),
                  x: f.quantityOrZero,
                  y: f.quantityOrZero,
                  lengthNm: f.quantity,
                  widthNm: f.quantity,
                }),
              )
              .min(1)
              .max(200),
          }),
        )
        .min(1)
        .max(60),
      /** Where pieces without a knife go: an item kept by piece or by pair. */
      intoItemId: f.id.nullable().default(null),
    }),
  )<{ readonly lotIds: readonly string[]; readonly sentence: string }>(),
} as const;

/** Contract of makings: work that turns lots into new lots: a pattern-welded billet, sawn scales, blanks from a cutter. */
import { z } from 'zod';
import type { Attachment } from './builds.ts';
import type { FileOut, Working } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { LotRow, Movement } from './stock.ts';

export const makingKinds = ['billet', 'scales', 'blanks', 'other'] as const;
export type MakingKind = (typeof makingKinds)[number];
export const makingStates = ['open', 'done', 'scrapped'] as const;
export type MakingState = (typeof makingStates)[number];
/** How cost is shared over what came out. */
export const shareKeys = ['weight', 'equal', 'length', 'first'] as const;
export type ShareKey = (typeof shareKeys)[number];
export const stepKinds = [
  'stack',
  'weld',
  'draw',
  'clean',
  'cut',
  'twist',
  'grind',
  'crop',
  'other',
] as const;
export type StepKind = (typeof stepKinds)[number];

export interface MakingRow {
  readonly id: string;
  /** e.g. `M-0003`. */
  readonly tag: string;
  readonly title: string;
  readonly kind: MakingKind;
  readonly state: MakingState;
  readonly startedOn: string;
  readonly endedOn: string | null;
  readonly minutes: number;
  readonly costMicro: number;
  /** Grams of good bar and the like, in words; empty while open. */
  readonly yieldWords: string;
}

export interface MakingStep {
  readonly id: string;
  readonly position: number;
  readonly on: string;
  readonly kind: StepKind;
  readonly label: string;
  readonly weightAfterNg: number | null;
  readonly pieces: number;
  readonly note: string;
  /** Lost since the last weighing, nanogram and parts per million of it; null where not weighed. */
  readonly lossNg: number | null;
  readonly lossPpm: number | null;
  /** Layers after this step; null where nothing is layered. */
  readonly layers: number | null;
}

export interface MakingLine {
  readonly key: string;
  readonly label: string;
  readonly exactMicro: number;
  readonly amountMinor: number;
  readonly working: readonly Working[];
}

export interface MakingOutput {
  readonly lot: LotRow;
  readonly share: number;
  readonly valueMicro: number;
  readonly minutes: number;
  /** What knives and other makings took of it. */
  readonly taken: readonly {
    readonly movementId: string;
    readonly buildId: string | null;
    /** The making that took it, where no knife did. */
    readonly makingId: string | null;
    /** Of the knife, or the tag of the making. */
    readonly serial: string;
    readonly qty: number;
    readonly valueMicro: number;
    /** Billet labour it carries, shown apart from the knife's own hours. */
    readonly minutes: number;
  }[];
}

export interface MakingDetail extends MakingRow {
  readonly shareKey: ShareKey;
  readonly labourOver: 'all' | 'taken';
  readonly startLayers: number | null;
  readonly layers: number | null;
  readonly note: string;
  readonly endReason: string;
  readonly steps: readonly MakingStep[];
  /** Start to good bar. */
  readonly totalLossNg: number | null;
  readonly totalLossPpm: number | null;
  readonly lines: readonly MakingLine[];
  readonly directMinor: number;
  /** Cost of good bar per kilogram, millionths; null where not weighed. */
  readonly perKgMicro: number | null;
  readonly labourMinor: number;
  readonly sessions: readonly {
    readonly id: string;
    readonly on: string;
    readonly minutes: number;
    readonly stageName: string;
    readonly note: string;
  }[];
  readonly movements: readonly Movement[];
  readonly charges: readonly {
    readonly id: string;
    readonly on: string;
    readonly label: string;
    readonly amountMicro: number;
    readonly reversesId: string | null;
    readonly reversedById: string | null;
  }[];
  readonly outputs: readonly MakingOutput[];
  readonly attachments: readonly Attachment[];
  /** What looks odd: weight that grows, a loss beyond what is usual, nothing weighed. */
  readonly remarks: readonly string[];
}

/** What failed makings of one kind cost the good ones. */
export interface FailureRow {
  readonly kind: MakingKind;
  /** Ended, well or badly. */
  readonly started: number;
  readonly failed: number;
  /** Of the failed, those within what is usual. */
  readonly usual: number;
  /** All of them together. */
  readonly costMicro: number;
  readonly failedCostMicro: number;
  /** Cost of one, good or not. */
  readonly perStartedMicro: number;
  /** Cost of a good one with the usual failures in it. */
  readonly perGoodMicro: number;
  /** Cost of a good one with every failure in it. */
  readonly perGoodAllMicro: number;
  /** Failures beyond what is usual: lost. */
  readonly lossMicro: number;
}

const about = {
  title: f.requiredText,
  shareKey: z.enum(shareKeys).default('weight'),
  labourOver: z.enum(['all', 'taken']).default('all'),
  startLayers: z.int().min(1).max(1000).nullable().default(null),
  note: f.longText.default(''),
};

/** Every call of makings. */
export const makingEndpoints = {
  'makings.list': query(
    z.strictObject({
      text: f.shortText.default(''),
      states: z.array(z.enum(makingStates)).default([]),
      ...f.page,
    }),
  )<f.Page<MakingRow>>(),
  'makings.get': query(z.strictObject({ id: f.id }))<MakingDetail>(),
  'makings.start': command(
    z.strictObject({ ...about, kind: z.enum(makingKinds), on: f.isoDate }),
  )<MakingDetail>(),
  'makings.update': command(z.strictObject({ id: f.id, ...about }))<MakingDetail>(),
  'makings.step': command(
    z.strictObject({
      makingId: f.id,
      on: f.isoDate,
      kind: z.enum(stepKinds),
      label: f.requiredText,
      weightAfterNg: f.quantity.nullable().default(null),
      pieces: z.int().min(1, 'At least one piece.').max(100, 'A hundred pieces at most.').default(1),
      note: f.longText.default(''),
    }),
  )<MakingDetail>(),
  /** Takes the last step away again, while the making is open. */
  'makings.dropStep': command(z.strictObject({ makingId: f.id, stepId: f.id }))<MakingDetail>(),
  'makings.take': command(
    z.strictObject({
      makingId: f.id,
      itemId: f.id,
      lotId: f.id.optional(),
      qty: f.quantity,
      on: f.isoDate,
      label: f.shortText.default(''),
    }),
  )<MakingDetail>(),
  /** Puts goods that went into an open making back where they were. */
  'makings.giveBack': command(
    z.strictObject({ makingId: f.id, movementId: f.id, reason: f.requiredText }),
  )<MakingDetail>(),
  'makings.charge': command(
    z.strictObject({ makingId: f.id, on: f.isoDate, label: f.requiredText, amountMicro: f.microPositive }),
  )<MakingDetail>(),
  'makings.reverseCharge': command(
    z.strictObject({ chargeId: f.id, reason: f.requiredText }),
  )<MakingDetail>(),
  /** Ends it well: what came out becomes lots that carry its whole cost. */
  'makings.finish': command(
    z.strictObject({
      makingId: f.id,
      on: f.isoDate,
      outputs: z
        .array(
          z.strictObject({
            itemId: f.id,
            /** Quantity of this lot in the item's own form. */
            qty: f.quantity,
            /** Measure for the share where it differs from `qty`: nanograms by weight, nanometres by length. */
            share: f.quantity.optional(),
            heatNumber: f.shortText.default(''),
            place: f.shortText.default(''),
            note: f.longText.default(''),
          }),
        )
        .min(1, 'Write what came out of it.')
        .max(100),
    }),
  )<MakingDetail>(),
  /** Ends it badly: its whole cost is a loss, with a reason. */
  'makings.scrap': command(
    z.strictObject({ makingId: f.id, on: f.isoDate, reason: f.requiredText }),
  )<MakingDetail>(),
  /** Back to work on it; only while nothing of what came out has been taken. */
  'makings.reopen': command(z.strictObject({ makingId: f.id, reason: f.requiredText }))<MakingDetail>(),
  /** What failures cost, by kind, with a usual share of failures set by the maker. */
  'makings.failures': query(z.strictObject({ usualPpm: f.ratePpm.default(100_000) }))<
    readonly FailureRow[]
  >(),
  'makings.sheetPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
} as const;

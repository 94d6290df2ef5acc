/** Contract of the Builds area: models with usual parts and stages, and the knives made from them. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import { uses, type ItemForm, type Movement, type Use } from './stock.ts';

/** How far a knife has come; the last three are ends. */
export const buildStates = ['planned', 'inWork', 'finished', 'sold', 'scrapped', 'kept'] as const;
export type BuildState = (typeof buildStates)[number];
/** How far a figure for consumables can be trusted: 1 flat per knife, 2 usual for the model, 3 shared openings, 4 measured average. */
export type Rung = 1 | 2 | 3 | 4;

export interface ModelPart {
  readonly id: string;
  /** Line on the cost sheet, e.g. "Steel", "Handle", "Pins". */
  readonly label: string;
  readonly itemId: string;
  readonly itemName: string;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  readonly use: Use;
  /** Usual amount; for a bar the length of the blank itself. */
  readonly qty: number;
  /** Blanks planned from one bar or sheet: each carries an equal share of it. Null: pay for what is taken. */
  readonly perBar: number | null;
  readonly stageCode: string | null;
  /** Which step of the ladder a usual consumable stands on: its usual amount, its openings, the measured average. */
  readonly rung: 2 | 3 | 4;
  /** On the rack now, over all lots. */
  readonly qtyLeft: number;
}

/** A usual cost with no stock behind it: gas, current, gloves, solvent. */
export interface ModelFlat {
  readonly id: string;
  readonly label: string;
  readonly use: Use;
  readonly amountMicro: number;
}

/** Something a buyer can choose on top, with what it adds to the price. */
export interface ModelOption {
  readonly id: string;
  readonly name: string;
  readonly priceMinor: number;
}

export interface ModelRow {
  readonly id: string;
  readonly code: string;
  readonly name: string;
  /** Models of one family share what was learned making them. */
  readonly family: string;
  readonly method: string;
  readonly usualMinutes: number;
  readonly priceMinor: number | null;
  readonly open: number;
  readonly finished: number;
  readonly sold: number;
  readonly archived: boolean;
  /** Length of the blade; null where nobody wrote it down. */
  readonly bladeNm: number | null;
  readonly steel: string;
  readonly finish: string;
}

export interface ModelDetail extends ModelRow {
  readonly note: string;
  readonly stages: readonly { readonly code: string; readonly name: string; readonly minutes: number }[];
  readonly parts: readonly ModelPart[];
  readonly flats: readonly ModelFlat[];
  readonly prices: readonly { readonly from: string; readonly priceMinor: number }[];
  readonly options: readonly ModelOption[];
  /** How a knife of it is looked after; printed on its papers. */
  readonly care: string;
}

export interface BuildRow {
  readonly id: string;
  readonly serial: string;
  readonly title: string;
  readonly modelId: string;
  readonly modelCode: string;
  readonly modelName: string;
  readonly state: BuildState;
  readonly method: string;
  readonly batch: string;
  readonly plannedOn: string;
  readonly startedOn: string | null;
  readonly finishedOn: string | null;
  readonly stagesDone: number;
  readonly stagesAll: number;
  readonly nextStageCode: string | null;
  readonly nextStageName: string | null;
  readonly minutes: number;
  /** Materials, consumables, energy and packaging so far: the direct cost of the cost sheet, which adds the lines shown. */
  readonly costMicro: number;
  readonly photoId: string | null;
}

export interface BuildStage {
  readonly code: string;
  readonly name: string;
  readonly attended: boolean;
  readonly usualMinutes: number;
  readonly minutes: number;
  readonly doneOn: string | null;
}

export interface Charge {
  readonly id: string;
  readonly on: string;
  readonly label: string;
  readonly use: Use;
  readonly amountMicro: number;
  readonly rung: Rung;
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

/** How the hours of a model, or of its family, fell with practice. */
export interface Learning {
  /** The family's name, or the model's where it has none. */
  readonly of: string;
  /** Finished knives in the order they were begun. */
  readonly knives: readonly {
    readonly id: string;
    readonly serial: string;
    readonly modelCode: string;
    readonly n: number;
    readonly minutes: number;
    /** By the fitted curve; null where none is fitted. */
    readonly curveMinutes: number | null;
  }[];
  /** What each doubling takes of the one before, parts per million; null with too few knives. */
  readonly ratePpm: number | null;
  /** The next knife by the curve; null where none is fitted. */
  readonly nextMinutes: number | null;
  /** In words: the finding, or why there is none. */
  readonly sentence: string;
}

/** What photos, drawings and papers can be pinned to. */
export const ownerKinds = [
  'build',
  'lot',
  'purchase',
  'item',
  'check',
  'making',
  'heat',
  'order',
  'service',
  'shipment',
  'expense',
  'asset',
  'income',
] as const;
export type OwnerKind = (typeof ownerKinds)[number];

/** Knives made together, with what comes next for each. */
export interface BatchRow {
  readonly batch: string;
  readonly builds: readonly BuildRow[];
  /** The stage most of them wait for. */
  readonly nextStageCode: string | null;
  readonly nextStageName: string | null;
  readonly minutes: number;
}

export interface Attachment {
  readonly id: string;
  readonly ownerKind: OwnerKind;
  readonly ownerId: string;
  readonly role: 'photo' | 'drawing' | 'paper';
  readonly name: string;
  readonly mime: string;
  readonly bytes: number;
  readonly caption: string;
  readonly addedAt: string;
  readonly hasThumb: boolean;
}

export interface BuildDetail extends BuildRow {
  readonly note: string;
  /** Not empty: sold as a second, with this flaw stated. */
  readonly flaw: string;
  /** Size, steel and finish of this knife: its own, else the model's. */
  readonly bladeNm: number | null;
  readonly steel: string;
  readonly finish: string;
  readonly endReason: string;
  readonly stages: readonly BuildStage[];
  /** The model's usual parts with how much of each this knife has already taken. */
  readonly parts: readonly (ModelPart & { readonly takenQty: number })[];
  readonly flats: readonly (ModelFlat & { readonly booked: boolean })[];
  readonly movements: readonly Movement[];
  readonly charges: readonly Charge[];
  readonly notes: readonly { readonly id: string; readonly at: string; readonly text: string }[];
  readonly attachments: readonly Attachment[];
  readonly listPriceMinor: number | null;
  readonly sale: {
    readonly saleId: string;
    readonly on: string;
    readonly buyerName: string;
    readonly priceMinor: number;
    readonly invoiceId: string | null;
    readonly invoiceNumber: string | null;
  } | null;
}

const stageCode = z.string().min(2).max(6);

/** Size, steel and finish; leave out to keep them as they are. */
const bladeFields = {
  bladeNm: f.blade.nullable().optional(),
  steel: f.shortText.optional(),
  finish: f.shortText.optional(),
};

/** Every call of the Builds area. */
export const buildEndpoints = {
  'builds.models': query(
    z.strictObject({ text: f.shortText.default(''), includeArchived: z.boolean().default(false) }),
  )<readonly ModelRow[]>(),
  'builds.model': query(z.strictObject({ id: f.id }))<ModelDetail>(),
  'builds.learning': query(z.strictObject({ modelId: f.id }))<Learning>(),
  'builds.saveModel': command(
    z.strictObject({
      id: f.id.optional(),
      code: z.string().trim().min(1, 'Give the model a short code.').max(12),
      name: f.requiredText,
      family: f.shortText.default(''),
      method: f.shortText.default(''),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
      stages: z.array(z.strictObject({ code: stageCode, minutes: z.int().min(0).max(60_000) })).max(60),
      parts: z
        .array(
          z.strictObject({
            label: f.requiredText,
            itemId: f.id,
            use: z.enum(uses),
            qty: f.quantity,
            perBar: z.int().min(1).max(500).nullable().default(null),
            stageCode: stageCode.nullable().default(null),
            rung: z.union([z.literal(2), z.literal(3), z.literal(4)]).default(2),
          }),
        )
        .max(80),
      flats: z
        .array(z.strictObject({ label: f.requiredText, use: z.enum(uses), amountMicro: f.microPositive }))
        .max(40),
      /** Leave out to keep them as they are. */
      options: z
        .array(
          z.strictObject({
            name: f.requiredText,
            priceMinor: z.int('Write an amount of money.').min(-1e12).max(1e12),
          }),
        )
        .max(40)
        .optional(),
      /** Leave out to keep it as it is. */
      care: f.longText.optional(),
      ...bladeFields,
    }),
  )<ModelDetail>(),
  'builds.setPrice': command(
    z.strictObject({ modelId: f.id, from: f.isoDate, priceMinor: f.minorPositive }),
  )<ModelDetail>(),

  'builds.list': query(
    z.strictObject({
      text: f.shortText.default(''),
      states: z.array(z.enum(buildStates)).default([]),
      modelId: f.id.optional(),
      sort: z.enum(['newest', 'serial', 'cost', 'minutes']).default('newest'),
      ...f.page,
    }),
  )<f.Page<BuildRow>>(),
  /** Batches with a knife planned or in work, the one worked on last first. */
  'builds.batches': query(z.strictObject({}))<readonly BatchRow[]>(),
  'builds.get': query(z.strictObject({ id: f.id }))<BuildDetail>(),
  'builds.plan': command(
    z.strictObject({
      modelId: f.id,
      count: z.int().min(1, 'Plan at least one.').max(50, 'Plan fifty at a time at most.').default(1),
      /** Leave out for the next free serial. Only with a count of one. */
      serial: z.string().trim().min(1).max(40).optional(),
      title: f.shortText.default(''),
      method: f.shortText.optional(),
      batch: f.shortText.default(''),
      on: f.isoDate,
      note: f.longText.default(''),
    }),
  )<{ readonly ids: readonly string[]; readonly serials: readonly string[] }>(),
  'builds.update': command(
    z.strictObject({
      id: f.id,
      serial: z.string().trim().min(1, 'A knife needs a serial.').max(40),
      title: f.shortText,
      method: f.shortText,
      batch: f.shortText,
      note: f.longText,
      /** What is wrong with it, for the buyer to read: it is sold as a second. Leave out to keep what stands. */
      flaw: f.shortText.optional(),
      ...bladeFields,
    }),
  )<BuildRow>(),
  /** Makes another model of an open knife: shortened, thinned, reshaped. What is booked on it stays. */
  'builds.become': command(z.strictObject({ id: f.id, modelId: f.id, reason: f.requiredText }))<BuildRow>(),
  'builds.start': command(z.strictObject({ id: f.id, on: f.isoDate }))<BuildRow>(),
  'builds.stage': command(
    z.strictObject({ id: f.id, code: stageCode, done: z.boolean(), on: f.isoDate }),
  )<BuildRow>(),
  'builds.finish': command(z.strictObject({ id: f.id, on: f.isoDate }))<BuildRow>(),
  /** Ends a knife that will not be sold: scrap it, or keep it (own use, tester, gift). */
  'builds.end': command(
    z.strictObject({ id: f.id, as: z.enum(['scrapped', 'kept']), on: f.isoDate, reason: f.requiredText }),
  )<BuildRow>(),
  /** Takes a finished, scrapped or kept knife back to the bench. */
  'builds.reopen': command(z.strictObject({ id: f.id, reason: f.requiredText }))<BuildRow>(),
  'builds.addNote': command(z.strictObject({ id: f.id, text: f.longText.min(1, 'Write the note first.') }))<{
    readonly noteId: string;
  }>(),
  /** Takes the model's usual parts off the rack and books its usual flat costs, those named. All or nothing. */
  'builds.takeUsual': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      parts: z
        .array(z.strictObject({ partId: f.id, lotId: f.id.optional(), qty: f.quantity.optional() }))
        .default([]),
      flatIds: z.array(f.id).default([]),
    }),
  )<{ readonly valueMicro: number }>(),
  'builds.charge': command(
    z.strictObject({
      buildId: f.id,
      on: f.isoDate,
      label: f.requiredText,
      use: z.enum(uses),
      amountMicro: f.microPositive,
      rung: z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4)]).default(1),
    }),
  )<Charge>(),
  'builds.reverseCharge': command(z.strictObject({ chargeId: f.id, reason: f.requiredText }))<Charge>(),
} as const;

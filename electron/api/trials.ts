/** Contract of Trials: two ways of doing one stage, compared over the knives of one model. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { Form } from '../domain/units.ts';

/** 1 is the way as it was, 2 the other one. */
export type WayPosition = 1 | 2;

export interface TrialWay {
  readonly position: WayPosition;
  readonly name: string;
  /** Knives with this way of working count here, unless put elsewhere by hand. */
  readonly method: string;
  readonly knives: number;
}

export interface TrialRow {
  readonly id: string;
  readonly number: number;
  readonly title: string;
  readonly modelId: string;
  readonly modelCode: string;
  readonly modelName: string;
  readonly stageCode: string;
  readonly stageName: string;
  readonly from: string | null;
  readonly until: string | null;
  readonly note: string;
  readonly archived: boolean;
  readonly ways: readonly TrialWay[];
  /** Share of the minutes the second way saves, parts per million; below zero where it takes longer; null until both have knives. */
  readonly savingPpm: number | null;
  /** The same with practice divided out. */
  readonly practisedSavingPpm: number | null;
  /** The finding in words, or why there is none. */
  readonly sentence: string;
}

export interface TrialKnifeRow {
  readonly buildId: string;
  readonly serial: string;
  readonly state: string;
  /** 0 is left out. */
  readonly way: 0 | WayPosition;
  readonly begun: string;
  /** Place in the order of making within the family. */
  readonly n: number;
  readonly minutes: number;
  /** How practice lengthened it: 1 150 000 says 15 % longer than usual. */
  readonly factorPpm: number;
  readonly factorFrom: 'table' | 'pace' | 'none';
  /** Minutes divided by the factor, to a tenth. */
  readonly practisedMinutes: number;
  readonly consumablesMicro: number;
  /** Why it was put elsewhere or left out; empty where its way of working decides. */
  readonly reason: string;
}

/** Figures of one way, minutes to a tenth. */
export interface WayFigures {
  readonly n: number;
  readonly mean: number;
  readonly median: number;
  /** Null below two knives. */
  readonly sd: number | null;
  readonly least: number;
  readonly most: number;
}

export interface TrialMeasure {
  readonly first: WayFigures;
  readonly second: WayFigures;
  readonly difference: number;
  readonly savingPpm: number;
  /** Welch's test; null where nothing can be said. */
  readonly welch: {
    readonly t: number;
    readonly df: number;
    readonly p: number;
    readonly low: number;
    readonly high: number;
  } | null;
  /** Why there is no test. */
  readonly noWelch: string;
  /** Middle 95 % of the saving when knives are drawn anew. */
  readonly drawnLowPpm: number;
  readonly drawnHighPpm: number;
  /** Knives of each way that would show a difference of this size four times in five. */
  readonly needed: number | null;
}

/** What one knife of a way used up on the stage, on average. */
export interface WayConsumables {
  readonly way: WayPosition;
  readonly meanMicro: number;
  readonly items: readonly {
    readonly itemId: string;
    readonly name: string;
    readonly form: Form;
    readonly unit: string;
    readonly pieceWord: string;
    readonly meanQty: number;
    readonly meanMicro: number;
  }[];
}

export interface Trial extends TrialRow {
  readonly knives: readonly TrialKnifeRow[];
  readonly raw: TrialMeasure | null;
  readonly practised: TrialMeasure | null;
  readonly consumables: readonly WayConsumables[];
  /** Plain warnings: too few, changed with experience, practice unknown. */
  readonly warnings: readonly string[];
  readonly seed: number;
}

export interface Practice {
  readonly family: string;
  /** Factor of the first, the second … knife, parts per million. */
  readonly factorsPpm: readonly number[];
}

const way = z.strictObject({ name: f.requiredText, method: f.requiredText });

/** Every call of Trials. */
export const trialEndpoints = {
  'trials.list': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<
    readonly TrialRow[]
  >(),
  'trials.get': query(z.strictObject({ id: f.id }))<Trial>(),
  /** The ways of working seen on the knives of a model, with how many each. */
  'trials.methods': query(z.strictObject({ modelId: f.id }))<
    readonly { readonly method: string; readonly knives: number }[]
  >(),
  'trials.save': command(
    z.strictObject({
      id: f.id.optional(),
      title: f.requiredText,
      modelId: f.id,
      stageCode: f.requiredText,
      first: way,
      second: way,
      from: f.isoDate.nullable().default(null),
      until: f.isoDate.nullable().default(null),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<TrialRow>(),
  /** Puts a knife on a side, or leaves it out; null lets its way of working decide again. */
  'trials.place': command(
    z.strictObject({
      trialId: f.id,
      buildId: f.id,
      way: z.union([z.literal(0), z.literal(1), z.literal(2)]).nullable(),
      reason: f.shortText.default(''),
    }),
  )<Trial>(),
  'trials.practice': query(z.strictObject({ modelId: f.id }))<Practice>(),
  /** The maker's own table of practice of a family; an empty one lets the pace of the other stages speak. */
  'trials.savePractice': command(
    z.strictObject({
      modelId: f.id,
      factorsPpm: z
        .array(
          z
            .int()
            .min(100_000, 'A factor below a tenth is a slip.')
            .max(10_000_000, 'A factor above ten is a slip.'),
        )
        .max(200),
    }),
  )<Practice>(),
} as const;

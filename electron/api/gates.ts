/** Contract of the gates a knife has to pass, with what was measured and what was asked for. */
import { z } from 'zod';
import type { Attachment } from './builds.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** What is checked, in the order a blade meets it. */
export const measures = [
  'skate',
  'warp',
  'hardness',
  'cracks',
  'behindEdge',
  'weight',
  'edgeFlex',
  'cut',
  'chop',
  'fit',
] as const;
export type Measure = (typeof measures)[number];
/** Unit of a measure's numbers: nanometre, thousandths of an HRC point, nanogram, or none (pass or not). */
export type MeasureUnit = 'nm' | 'milliHrc' | 'ng' | 'count' | null;
/** Hardness scales a reading can be taken on; targets are always kept in HRC. */
export const hardnessScales = ['HRC', 'HV', 'HBW'] as const;
export type HardnessScale = (typeof hardnessScales)[number];
export const verdicts = ['pass', 'rework', 'fail'] as const;
export type Verdict = (typeof verdicts)[number];

export interface GateTarget {
  readonly id: string;
  readonly measure: Measure;
  readonly modelId: string | null;
  readonly modelName: string | null;
  readonly steelItemId: string | null;
  readonly steelName: string | null;
  readonly target: number | null;
  readonly low: number | null;
  readonly high: number | null;
  readonly note: string;
}

export interface Check {
  readonly id: string;
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly modelCode: string;
  readonly steelName: string | null;
  readonly heatNumber: string;
  readonly on: string;
  readonly measure: Measure;
  readonly unit: MeasureUnit;
  /** Hardness only: readings and mean are thousandths of this scale. */
  readonly scale: HardnessScale | null;
  readonly readings: readonly { readonly place: string; readonly value: number }[];
  readonly mean: number | null;
  readonly target: number | null;
  readonly low: number | null;
  readonly high: number | null;
  /** False when a reading lies outside what was asked for; null without numbers. */
  readonly within: boolean | null;
  readonly verdict: Verdict;
  readonly note: string;
  readonly heatId: string | null;
  readonly voidedReason: string | null;
  /** As the standards ask: measured value first, converted one in brackets, e.g. "62 HRC (746 HV)". */
  readonly words: string;
  readonly attachments: readonly Attachment[];
}

export interface Gate {
  readonly measure: Measure;
  readonly unit: MeasureUnit;
  readonly places: readonly string[];
  /** What is asked for: the nearest of model and steel, model, steel, all. */
  readonly asked: Pick<GateTarget, 'target' | 'low' | 'high' | 'note'> | null;
  readonly state: 'open' | Verdict;
  readonly checks: readonly Check[];
  readonly caution: string | null;
}

const tooFar = 'No gauge shows that. Check the number and its unit.';
const value = z.int('Write a number.').min(-1e12, tooFar).max(1e12, tooFar);

/** Every call of the gates. */
export const gateEndpoints = {
  'gates.targets': query(z.strictObject({ modelId: f.id.optional() }))<readonly GateTarget[]>(),
  'gates.saveTarget': command(
    z.strictObject({
      id: f.id.optional(),
      measure: z.enum(measures),
      modelId: f.id.nullable().default(null),
      steelItemId: f.id.nullable().default(null),
      target: value.nullable().default(null),
      low: value.nullable().default(null),
      high: value.nullable().default(null),
      note: f.shortText.default(''),
    }),
  )<readonly GateTarget[]>(),
  'gates.dropTarget': command(z.strictObject({ id: f.id }))<readonly GateTarget[]>(),
  'gates.forBuild': query(z.strictObject({ buildId: f.id }))<readonly Gate[]>(),
  /** One gate for one knife or a batch, each with its own readings. */
  'gates.check': command(
    z.strictObject({
      measure: z.enum(measures),
      on: f.isoDate,
      heatId: f.id.nullable().default(null),
      knives: z
        .array(
          z.strictObject({
            buildId: f.id,
            readings: z
              .array(z.strictObject({ place: f.shortText.default(''), value }))
              .max(20)
              .default([]),
            /** Hardness only; HRC when left out. */
            scale: z.enum(hardnessScales).nullable().default(null),
            verdict: z.enum(verdicts),
            note: f.longText.default(''),
          }),
        )
        .min(1, 'Choose a knife.')
        .max(100),
    }),
  )<readonly Check[]>(),
  'gates.void': command(z.strictObject({ checkId: f.id, reason: f.requiredText }))<Check>(),
  'gates.list': query(
    z.strictObject({
      text: f.shortText.default(''),
      measure: z.enum(measures).optional(),
      verdict: z.enum(verdicts).optional(),
      steelItemId: f.id.optional(),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
      ...f.page,
    }),
  )<f.Page<Check>>(),
} as const;

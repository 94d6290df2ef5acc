/** Contract of heat treatment: recipes per steel and bar, and what was really done to a batch. */
import { z } from 'zod';
import type { Attachment } from './builds.ts';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { Check } from './gates.ts';
import type { Wait } from './waits.ts';

export const heatStepKinds = [
  'normalise',
  'anneal',
  'preheat',
  'soak',
  'quench',
  'cold',
  'temper',
  'stressRelief',
] as const;
export type HeatStepKind = (typeof heatStepKinds)[number];

export interface HeatStep {
  readonly kind: HeatStepKind;
  /** Thousandths of a degree Celsius; the bath's temperature for a quench. Null where nobody measured. */
  readonly tempMilliC: number | null;
  readonly minutes: number;
  readonly note: string;
}

export interface Recipe {
  readonly id: string;
  readonly name: string;
  readonly steelItemId: string | null;
  readonly steelName: string | null;
  readonly lotId: string | null;
  readonly lotTag: string | null;
  readonly heatNumber: string;
  readonly note: string;
  readonly archived: boolean;
  readonly steps: readonly HeatStep[];
  /** How often it was used, and the hardness it gave. */
  readonly used: number;
  readonly hardness: {
    readonly n: number;
    readonly meanMilliHrc: number;
    readonly sdMilliHrc: number | null;
  } | null;
}

export interface HeatRow {
  readonly id: string;
  /** e.g. `H-0012`. */
  readonly tag: string;
  readonly on: string;
  readonly batch: string;
  readonly recipeName: string | null;
  readonly builds: readonly { readonly id: string; readonly serial: string; readonly title: string }[];
  readonly meanMilliHrc: number | null;
}

export interface Heat extends HeatRow {
  readonly recipeId: string | null;
  readonly fireId: string | null;
  readonly fireName: string | null;
  readonly bathId: string | null;
  readonly bathName: string | null;
  readonly note: string;
  readonly steps: readonly HeatStep[];
  /** Hollomon–Jaffe parameter over all temper steps, hours, C = 20, in thousands; null without a temper. */
  readonly temperParameterMilli: number | null;
  /** Dips booked into the bath from this record. */
  readonly quenched: number;
  readonly checks: readonly Check[];
  readonly waits: readonly Wait[];
  readonly attachments: readonly Attachment[];
  readonly cautions: readonly string[];
}

const step = z.strictObject({
  kind: z.enum(heatStepKinds),
  tempMilliC: z
    .int('Write a temperature.')
    .min(-273_150, 'Nothing is colder than −273.15 °C.')
    .max(1_600_000, 'That is hotter than steel can bear; check the unit.')
    .nullable()
    .default(null),
  minutes: z
    .int('Write a time.')
    .min(0)
    .max(14 * 24 * 60),
  note: f.shortText.default(''),
});

/** Every call of heat treatment. */
export const heatEndpoints = {
  'heats.recipes': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<
    readonly Recipe[]
  >(),
  'heats.saveRecipe': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      steelItemId: f.id.nullable().default(null),
      lotId: f.id.nullable().default(null),
      note: f.longText.default(''),
      archived: z.boolean().default(false),
      steps: z.array(step).min(1, 'A recipe needs at least one step.').max(40),
    }),
  )<Recipe>(),
  'heats.list': query(z.strictObject({ text: f.shortText.default(''), buildId: f.id.optional(), ...f.page }))<
    f.Page<HeatRow>
  >(),
  'heats.get': query(z.strictObject({ id: f.id }))<Heat>(),
  'heats.recordPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  'heats.save': command(
    z.strictObject({
      id: f.id.optional(),
      on: f.isoDate,
      batch: f.shortText.default(''),
      recipeId: f.id.nullable().default(null),
      fireId: f.id.nullable().default(null),
      bathId: f.id.nullable().default(null),
      buildIds: z.array(f.id).min(1, 'Choose the knives that went through it.').max(100),
      steps: z.array(step).min(1, 'Write at least one step.').max(40),
      note: f.longText.default(''),
    }),
  )<Heat>(),
} as const;

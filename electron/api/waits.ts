/** Contract of unattended time: kiln, temper, glue, etch, oil coats. It moves dates, never labour cost. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

export const waitKinds = [
  'kiln',
  'temper',
  'anneal',
  'cold',
  'glue',
  'etch',
  'oilCoat',
  'leather',
  'pickle',
  'other',
] as const;
export type WaitKind = (typeof waitKinds)[number];

export interface Wait {
  readonly id: string;
  readonly kind: WaitKind;
  readonly label: string;
  readonly stageCode: string | null;
  readonly startedAt: string;
  readonly endsAt: string;
  readonly doneAt: string | null;
  readonly dropped: boolean;
  readonly makingId: string | null;
  readonly makingTitle: string | null;
  readonly builds: readonly { readonly id: string; readonly serial: string; readonly title: string }[];
  readonly note: string;
  /** Minutes until it ends; below zero once it is over. */
  readonly minutesLeft: number;
  /** Minutes it took, or has taken so far. */
  readonly minutes: number;
}

const wait = {
  kind: z.enum(waitKinds),
  label: f.shortText.default(''),
  stageCode: z.string().min(2).max(6).nullable().default(null),
  buildIds: z.array(f.id).max(100).default([]),
  makingId: f.id.nullable().default(null),
  heatId: f.id.nullable().default(null),
  note: f.longText.default(''),
};
const long = z
  .int('Write how long, for example 2 h or 16 h.')
  .min(1, 'At least one minute.')
  .max(60 * 24 * 60, 'Sixty days at most.');

/** Every call of unattended time. */
export const waitEndpoints = {
  'waits.list': query(
    z.strictObject({
      /** Only those that still run or wait to be seen to. */
      open: z.boolean().default(true),
      buildId: f.id.optional(),
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
    }),
  )<readonly Wait[]>(),
  'waits.start': command(
    z.strictObject({ ...wait, minutes: long, startedAt: f.isoInstant.optional() }),
  )<Wait>(),
  /** Seen to: it is out of the kiln, the clamps are off. */
  'waits.done': command(z.strictObject({ id: f.id, at: f.isoInstant.optional() }))<Wait>(),
  /** Give it longer, or take some back. */
  'waits.change': command(z.strictObject({ id: f.id, minutes: long }))<Wait>(),
  'waits.drop': command(z.strictObject({ id: f.id, reason: f.shortText.default('') }))<null>(),
} as const;

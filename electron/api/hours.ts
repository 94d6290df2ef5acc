/** Contract of the Hours area: the clock, sessions and their corrections. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** Work that belongs to no knife. */
export const workKinds = ['content', 'messages', 'cleaning', 'machines', 'buying', 'other'] as const;
export type WorkKind = (typeof workKinds)[number];
export type SessionSource = 'clock' | 'guess' | 'entered' | 'import';

export interface Clock {
  readonly startedAt: string;
  readonly stageCode: string | null;
  readonly stageName: string | null;
  readonly workKind: WorkKind | null;
  readonly builds: readonly { readonly id: string; readonly serial: string; readonly title: string }[];
  readonly note: string;
  /** Whole minutes run so far, never below zero even when the machine's clock was set back. */
  readonly minutes: number;
  /** A sentence when something looks wrong: running overnight, clock set back. */
  readonly doubt: string | null;
}

export interface SessionShare {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly minutes: number;
}

export interface SessionRow {
  readonly id: string;
  readonly on: string;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  readonly minutes: number;
  readonly stageCode: string | null;
  readonly stageName: string | null;
  readonly workKind: WorkKind | null;
  readonly source: SessionSource;
  readonly note: string;
  readonly shares: readonly SessionShare[];
  /** How many earlier versions stand behind it. */
  readonly corrections: number;
}

/** One version of a session, oldest first; the last is the one that counts unless `cancelled`. */
export interface SessionVersion extends SessionRow {
  readonly recordedAt: string;
  readonly reason: string;
  readonly cancelled: boolean;
}

export interface WeekSheet {
  readonly from: string;
  readonly days: readonly {
    readonly on: string;
    readonly benchMinutes: number;
    readonly otherMinutes: number;
  }[];
  readonly byStage: readonly { readonly code: string; readonly name: string; readonly minutes: number }[];
  readonly byKind: readonly { readonly kind: WorkKind; readonly minutes: number }[];
  readonly sessions: readonly SessionRow[];
}

export interface GuessReading {
  /** What was understood, in words, to confirm before it is booked. */
  readonly sentence: string;
  readonly minutes: number;
  readonly stageCode: string | null;
  readonly workKind: WorkKind | null;
  readonly buildIds: readonly string[];
}

const about = {
  stageCode: z.string().min(2).max(6).nullable(),
  workKind: z.enum(workKinds).nullable(),
  note: f.longText.default(''),
};
const share = z.strictObject({ buildId: f.id, weight: z.int().min(1).max(1000).default(1) });
const entry = {
  on: f.isoDate,
  minutes: f.minutes,
  ...about,
  startedAt: f.isoInstant.nullable().default(null),
  /** Split equally, or by weight. Empty for work that belongs to no knife. */
  shares: z.array(share).max(100),
};

/** Every call of the Hours area. */
export const hoursEndpoints = {
  'hours.clock': query(z.strictObject({}))<Clock | null>(),
  'hours.start': command(z.strictObject({ ...about, buildIds: z.array(f.id).max(100) }))<Clock>(),
  /** Books what has run and starts the next stage in one step. */
  'hours.switch': command(z.strictObject({ ...about, buildIds: z.array(f.id).max(100) }))<{
    readonly booked: SessionRow | null;
    readonly clock: Clock;
  }>(),
  /** Books what has run. `minutes` overrides what the clock says, for a forgotten stop. */
  'hours.stop': command(
    z.strictObject({ minutes: f.minutes.optional(), note: f.longText.optional() }),
  )<SessionRow | null>(),
  'hours.dropClock': command(z.strictObject({}))<null>(),
  'hours.readGuess': query(z.strictObject({ text: f.requiredText }))<GuessReading>(),
  'hours.book': command(
    z.strictObject({ ...entry, source: z.enum(['guess', 'entered']).default('entered') }),
  )<SessionRow>(),
  'hours.correct': command(
    z.strictObject({ sessionId: f.id, ...entry, reason: f.requiredText }),
  )<SessionRow>(),
  'hours.cancel': command(z.strictObject({ sessionId: f.id, reason: f.requiredText }))<null>(),
  'hours.sessions': query(
    z.strictObject({
      from: f.isoDate.optional(),
      to: f.isoDate.optional(),
      buildId: f.id.optional(),
      text: f.shortText.default(''),
      ...f.page,
    }),
  )<f.Page<SessionRow>>(),
  'hours.history': query(z.strictObject({ sessionId: f.id }))<readonly SessionVersion[]>(),
  'hours.week': query(z.strictObject({ on: f.isoDate }))<WeekSheet>(),
} as const;

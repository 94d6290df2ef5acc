/** Contract of the Hours area: the clock, sessions and their corrections. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** Work that belongs to no knife. */
export const workKinds = [
  'content',
  'messages',
  'cleaning',
  'machines',
  'service',
  'buying',
  'other',
] as const;
export type WorkKind = (typeof workKinds)[number];
export type SessionSource = 'clock' | 'guess' | 'entered' | 'import';

/** Somebody who helps; the maker is no entry here. */
export interface Person {
  readonly id: string;
  readonly name: string;
  readonly note: string;
  readonly archived: boolean;
  readonly rates: readonly { readonly from: string; readonly perHourMicro: number }[];
}

export interface Clock {
  /** Whose clock; null for the maker. */
  readonly personId: string | null;
  readonly personName: string | null;
  readonly makingId: string | null;
  readonly makingTitle: string | null;
  /** Minutes of set-up so far told apart, shared once over the whole batch. */
  readonly setupMinutes: number;
  readonly startedAt: string;
  readonly stageCode: string | null;
  readonly stageName: string | null;
  readonly workKind: WorkKind | null;
  readonly builds: readonly {
    readonly id: string;
    readonly serial: string;
    readonly title: string;
    readonly weight: number;
  }[];
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
  /** What the time without the set-up was shared by. */
  readonly weight: number;
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
  readonly personId: string | null;
  readonly personName: string | null;
  readonly makingId: string | null;
  readonly makingTitle: string | null;
  /** Of the minutes, those of setting up once for the batch. */
  readonly setupMinutes: number;
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
    /** Unattended: kiln, glue, etch. Moves dates, costs no labour. */
    readonly waitMinutes: number;
  }[];
  readonly byStage: readonly { readonly code: string; readonly name: string; readonly minutes: number }[];
  readonly byKind: readonly { readonly kind: WorkKind; readonly minutes: number }[];
  readonly byPerson: readonly {
    readonly personId: string | null;
    readonly name: string;
    readonly minutes: number;
  }[];
  readonly sessions: readonly SessionRow[];
}

/** The two clocks of one knife. */
export interface Elapsed {
  readonly attendedMinutes: number;
  readonly waitMinutes: number;
  readonly firstOn: string | null;
  readonly lastOn: string | null;
  /** Calendar days from the first to the last, both counted. */
  readonly days: number;
}

export interface GuessReading {
  /** What was understood, in words, to confirm before it is booked. */
  readonly sentence: string;
  /** What to think of before it is booked: knives that are sold, scrapped or kept; null for nothing. */
  readonly remark: string | null;
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
const who = { personId: f.id.nullable().default(null) };
const share = z.strictObject({ buildId: f.id, weight: z.int().min(1).max(1000).default(1) });
const entry = {
  on: f.isoDate,
  minutes: f.minutes,
  ...about,
  startedAt: f.isoInstant.nullable().default(null),
  /** Split equally, or by weight. Empty for work that belongs to no knife. */
  shares: z.array(share).max(100),
  ...who,
  makingId: f.id.nullable().default(null),
  setupMinutes: z
    .int()
    .min(0, 'Set-up cannot be below zero.')
    .max(24 * 60)
    .default(0),
};
const clockWork = {
  ...about,
  ...who,
  buildIds: z.array(f.id).max(100),
  /** One for each of `buildIds`; left out, they share equally. */
  weights: z.array(z.int().min(1).max(1000)).max(100).optional(),
  makingId: f.id.nullable().default(null),
};

/** Every call of the Hours area. */
export const hoursEndpoints = {
  /** The maker's clock. */
  'hours.clock': query(z.strictObject({}))<Clock | null>(),
  /** Every running clock, the maker's first. */
  'hours.clocks': query(z.strictObject({}))<readonly Clock[]>(),
  'hours.start': command(z.strictObject(clockWork))<Clock>(),
  /** Books what has run and starts the next stage in one step. */
  'hours.switch': command(z.strictObject(clockWork))<{
    readonly booked: SessionRow | null;
    readonly clock: Clock;
  }>(),
  /** Books what has run. `minutes` overrides what the clock says, for a forgotten stop. */
  'hours.stop': command(
    z.strictObject({ ...who, minutes: f.minutes.optional(), note: f.longText.optional() }),
  )<SessionRow | null>(),
  'hours.dropClock': command(z.strictObject(who))<null>(),
  /** The set-up ends now: what has run is told apart and shared once over the batch. */
  'hours.setUpDone': command(z.strictObject(who))<Clock>(),
  'hours.people': query(z.strictObject({ includeArchived: z.boolean().default(false) }))<readonly Person[]>(),
  'hours.savePerson': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      note: f.longText.default(''),
      archived: z.boolean().default(false),
    }),
  )<Person>(),
  'hours.setPersonRate': command(
    z.strictObject({ personId: f.id, from: f.isoDate, perHourMicro: f.microPositive }),
  )<Person>(),
  'hours.elapsed': query(z.strictObject({ buildId: f.id }))<Elapsed>(),
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

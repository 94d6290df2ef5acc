/** Contract of promises: when each order will be done, from the own hours, paces and losses so far. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

export interface PromiseRow {
  /** Of the knife, or of the order no knife is begun for; `new` for the one that is asked about. */
  readonly key: string;
  readonly kind: 'knife' | 'order' | 'new';
  readonly buildId: string | null;
  readonly serial: string | null;
  readonly orderId: string | null;
  readonly orderTag: string | null;
  readonly buyerName: string | null;
  readonly modelName: string;
  /** Attended minutes still to spend at the usual pace. */
  readonly minutes: number;
  readonly waitDays: number;
  readonly promisedOn: string | null;
  /** Half of the runs were done by this day. */
  readonly halfOn: string;
  /** 85 of 100 runs were done by this day. */
  readonly likelyOn: string;
  /** `likelyOn` put on to the next Friday: what to tell a buyer. */
  readonly sayOn: string;
  /** Late: half of the runs miss the promise. At risk: more than 15 of 100 do. */
  readonly state: 'safe' | 'atRisk' | 'late' | 'notPromised';
}

export interface ClosedDays {
  readonly id: string;
  readonly from: string;
  readonly until: string;
  readonly note: string;
}

export interface Promises {
  readonly rows: readonly PromiseRow[];
  /** Bench minutes of each of the last ten weeks, oldest first; fewer where the books hold no work before. */
  readonly weeks: readonly number[];
  /** What the maker wrote instead; null where the weeks speak. */
  readonly weekMinutes: number | null;
  /** Booked to usual minutes of own finished knives, in parts per million: a quarter, the middle, three quarters; null without any. */
  readonly pace: {
    readonly lowPpm: number;
    readonly middlePpm: number;
    readonly highPpm: number;
    readonly knives: number;
  } | null;
  readonly lossPpm: number;
  readonly lossHow: string;
  readonly closed: readonly ClosedDays[];
  readonly seed: number;
  readonly runs: number;
  /** How promises were kept so far. */
  readonly kept: {
    /** Orders delivered, or still running past it, that had a promised day, and how many were delivered by it. */
    readonly promised: number;
    readonly inTime: number;
    /** How many of them still run. */
    readonly overdue: number;
    /** Of orders whose 85 % day was noted, those still running past it too: how many were delivered by that. */
    readonly noted: number;
    readonly byLikely: number;
    /** Middle of the days between the 85 % day noted and the delivery; below zero is earlier. Null below three. */
    readonly afterLikelyDays: number | null;
  };
  /** The queue held against what was done in the weeks above, without any chance (Little’s law). */
  readonly flow: {
    /** Knives and orders in the queue, the one asked about left out. */
    readonly open: number;
    readonly finished: number;
    readonly agreed: number;
    /** How long the last one waits; null where nothing was finished in those weeks. */
    readonly waitWeeks: number | null;
    /** How many may be open for a wait of `usualWeeks`; null likewise. */
    readonly openAtUsual: number | null;
    /** How many would have to be finished a week for that wait with what is open. */
    readonly rateAtUsual: number;
    readonly usualWeeks: number;
  };
  /** What is assumed, in words, where the own past is silent. */
  readonly assumed: readonly string[];
  /** Why nothing can be named; empty when days are. */
  readonly refusal: string;
}

/** Every call of promises. */
export const promiseEndpoints = {
  'promises.list': query(
    z.strictObject({
      /** What if this order is taken first. */
      firstOrderId: f.id.optional(),
      /** What if this knife is lost now. */
      lostBuildId: f.id.optional(),
      /** What could be promised for a new one of this model, behind all others. */
      newModelId: f.id.optional(),
    }),
  )<Promises>(),
  /** How many bench hours a week to reckon with; null lets the last ten weeks speak. */
  'promises.setWeek': command(
    z.strictObject({
      weekMinutes: z
        .int('Write a time, for example 12 h.')
        .min(1, 'Without any bench hours nothing gets done. Write at least some.')
        .max(7 * 24 * 60, 'A week has no more than 168 hours.')
        .nullable(),
    }),
  )<{ readonly weekMinutes: number | null }>(),
  'promises.close': command(
    z.strictObject({ from: f.isoDate, until: f.isoDate, note: f.shortText.default('') }),
  )<ClosedDays>(),
  'promises.reopen': command(z.strictObject({ id: f.id }))<{ readonly id: string }>(),
  /** Keeps the days named for an order today, to be held against the day it is delivered. */
  'promises.note': command(z.strictObject({ orderId: f.id }))<{
    readonly halfOn: string;
    readonly likelyOn: string;
  }>(),
} as const;

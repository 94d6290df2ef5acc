/** The bench clock: how its minutes are shared, and when what it says must not be believed. */
import { allocate, sum } from './integers.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

/**
 * Whole minutes of each knife of a session. Setting up is done once for the batch and is carried equally, whatever the
 * weights; the rest goes by weight. Both are rounded together, once, so the parts always add up to `minutes`.
 * @param minutes the whole session, set-up included
 * @param setupMinutes of these, the setting up; more than the whole counts as the whole
 * @param weights one for each knife, 1 or more
 */
export const shareMinutes = (
  minutes: number,
  setupMinutes: number,
  weights: readonly number[],
): readonly number[] => {
  if (weights.length === 0) return [];
  const setup = Math.min(setupMinutes, minutes);
  const whole = sum(weights);
  // setup / n + run × weight / whole, over the common denominator n × whole.
  return allocate(
    minutes,
    weights.map((weight) => setup * whole + (minutes - setup) * weight * weights.length),
  );
};

/** Longer than this and it was more likely forgotten than worked. */
const LONGEST_HOURS = 16;
/** A clock that ran from one day into the next for longer than this was left on overnight. */
const OVERNIGHT_HOURS = 8;
/** A machine corrects its clock by a little all the time; only more than this is a clock set back. */
const SET_BACK_MS = 120_000;
const HOUR_MS = 3_600_000;

/** A running clock as the machine and the books see it now. */
export interface Run {
  /** Milliseconds from the start to the present instant; negative when the machine's clock now stands before it. */
  readonly elapsedMs: number;
  /** The latest instant the books have seen since the start, less the present one, in milliseconds. */
  readonly aheadMs: number;
  /** The start lies on an earlier local day. */
  readonly sinceAnotherDay: boolean;
}

/** A sentence about what looks wrong with a running clock, or null. While there is one, nobody books without saying how long it was. */
export const doubtAbout = ({ elapsedMs, aheadMs, sinceAnotherDay }: Run): string | null => {
  const say = 'Write how long you really worked when you stop it.';
  if (elapsedMs < 0 || aheadMs > SET_BACK_MS) {
    return `The computer’s clock was set back while this was running. ${say}`;
  }
  if (elapsedMs > LONGEST_HOURS * HOUR_MS) {
    return `The clock has been running for more than ${String(LONGEST_HOURS)} hours; it was probably forgotten, or the computer’s clock was set forward. ${say}`;
  }
  return sinceAnotherDay && elapsedMs > OVERNIGHT_HOURS * HOUR_MS
    ? `The clock has been running since the day before; it was probably left on overnight. ${say}`
    : null;
};

const MINUTE_MS = 60_000;
const DAY_MINUTES = 24 * 60;

/**
 * Whole minutes from one instant to another, as a session may last.
 * @param startMs, endMs milliseconds since the epoch, so that a change of summer time is reckoned right
 */
export const sessionSpan = (startMs: number, endMs: number): Outcome<number> => {
  const minutes = Math.round((endMs - startMs) / MINUTE_MS);
  if (minutes < 0)
    return refuse(
      'The session ends before it starts. For work past midnight leave the end empty and write how long it took.',
    );
  if (minutes === 0) return refuse('Start and end are the same. A session needs at least one minute.');
  return minutes > DAY_MINUTES ? refuse('One session cannot be longer than a day.') : ok(minutes);
};

const TIME_EXAMPLE = 'Write it like 9:30 or 14:05.';

/** Reads a time of day into minutes after midnight: `9:30`, `9.30`, `0930`, `9`, `2:15 pm`. */
export const parseTimeOfDay = (text: string): Outcome<number> => {
  const match = /^(\d{1,2})(?:[:.h]?(\d{2}))?\s*(am|pm)?$/i.exec(text.trim());
  if (match === null) return refuse(`“${text.trim()}” is not a time of day. ${TIME_EXAMPLE}`);
  const half = match[3]?.toLowerCase();
  const typed = Number(match[1]);
  const minute = Number(match[2] ?? 0);
  if (minute > 59 || typed > 23 || (half !== undefined && (typed < 1 || typed > 12))) {
    return refuse(`There is no ${text.trim()} on a clock. ${TIME_EXAMPLE}`);
  }
  const hour = half === undefined ? typed : (typed % 12) + (half === 'pm' ? 12 : 0);
  return ok(hour * 60 + minute);
};

/** Minutes after midnight as `09:30`. */
export const timeOfDayText = (minutes: number): string =>
  `${String(Math.floor(minutes / 60)).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;

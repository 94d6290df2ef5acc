/** Two ways of doing one stage compared over the knives of one model. Minutes are whole; averages are plain figures. */
import { bootstrapInterval } from './bootstrap.ts';
import type { Interval } from './bootstrap.ts';
import { spreadOf, TOO_FEW } from './spread.ts';
import type { Spread } from './spread.ts';
import { isNoSpread, welch } from './welch.ts';
import type { Welch } from './welch.ts';

/** One knife's go at the stage. */
export interface TrialKnife {
  /** Day it was begun. */
  readonly begun: string;
  readonly minutes: number;
  /** How practice lengthened it; null where nothing is known. */
  readonly factor: number | null;
}

/** Both ways side by side by one measure. */
export interface Comparison {
  readonly first: Spread;
  readonly second: Spread;
  /** Mean of the first less mean of the second. */
  readonly difference: number;
  /** Share of the first way's mean that the second saves; negative where it takes longer. */
  readonly saving: number;
  /** Null where nothing can be said, with the reason. */
  readonly welch: Welch | null;
  readonly noWelch: string;
  /** Middle 95 % of the saving when knives are drawn anew. */
  readonly drawn: Interval;
  /**
   * Knives each way would need to show a difference of this size four times in five; null without a difference or
   * spread, and where one way has a single knife, whose spread nobody knows.
   */
  readonly needed: number | null;
}

export type TrialWarning = 'tooFew' | 'changedWithExperience' | 'noPractice';

export interface TrialOutcome {
  readonly raw: Comparison;
  /** The same with practice divided out of every knife; as booked where it is not known of every one. */
  readonly practised: Comparison;
  readonly warnings: readonly TrialWarning[];
}

/** z for two-sided 5 % plus z for 80 % power: the usual planning rule for two means (common practice; Cohen 1988). */
const PLANNING = 1.959964 + 0.841621;

const neededFor = (first: Spread, second: Spread): number | null => {
  if (first.sd === null || second.sd === null) return null;
  const difference = Math.abs(first.mean - second.mean);
  const variance = (first.sd ** 2 + second.sd ** 2) / 2;
  const size = Math.max(first.mean, second.mean);
  if (isNoSpread(difference, size) || isNoSpread(Math.sqrt(variance), size)) return null;
  return Math.max(2, Math.ceil((2 * variance * PLANNING ** 2) / difference ** 2));
};

function compared(first: readonly number[], second: readonly number[], seed: number): Comparison | undefined {
  const [a, b] = [spreadOf(first), spreadOf(second)];
  if (a === null || b === null || a.mean <= 0) return undefined;
  const test = welch(first, second);
  return {
    first: a,
    second: b,
    difference: a.mean - b.mean,
    saving: 1 - b.mean / a.mean,
    welch: test.ok ? test.value : null,
    noWelch: test.ok ? '' : test.message,
    drawn: bootstrapInterval({ first, second }, (x, y) => (x > 0 ? 1 - y / x : 0), seed),
    needed: neededFor(a, b),
  };
}

/** True where every knife of one way was begun before any of the other. */
const apart = (first: readonly TrialKnife[], second: readonly TrialKnife[]): boolean => {
  const ends = (knives: readonly TrialKnife[]): readonly [string, string] => {
    const days = knives.map(({ begun }) => begun).toSorted();
    return [days[0] ?? '', days.at(-1) ?? ''];
  };
  const [a, b] = [ends(first), ends(second)];
  return a[1] < b[0] || b[1] < a[0];
};

/** Divided out of some knives alone, practice would tilt the comparison it is meant to set right. */
const isKnown = (knives: readonly TrialKnife[]): boolean => knives.every(({ factor }) => factor !== null);

function warningsFor(first: readonly TrialKnife[], second: readonly TrialKnife[]): TrialWarning[] {
  const all = [...first, ...second];
  return [
    ...(Math.min(first.length, second.length) < TOO_FEW ? (['tooFew'] as const) : []),
    ...(apart(first, second) ? (['changedWithExperience'] as const) : []),
    ...(isKnown(all) ? [] : (['noPractice'] as const)),
  ];
}

/**
 * Compares two ways. Undefined while one of them has no knife with minutes on the stage yet.
 * @param seed recorded with the answer
 */
export function compareWays(
  first: readonly TrialKnife[],
  second: readonly TrialKnife[],
  seed: number,
): TrialOutcome | undefined {
  const minutes = (knives: readonly TrialKnife[]): number[] => knives.map((knife) => knife.minutes);
  const known = isKnown([...first, ...second]);
  const divided = (knives: readonly TrialKnife[]): number[] =>
    knives.map(({ minutes: taken, factor }) => (known ? taken / (factor ?? 1) : taken));
  const raw = compared(minutes(first), minutes(second), seed);
  const practised = compared(divided(first), divided(second), seed);
  if (raw === undefined || practised === undefined) return undefined;
  return { raw, practised, warnings: warningsFor(first, second) };
}

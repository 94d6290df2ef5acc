/** The hours of a making, carried by what was taken of it: shown apart, never mixed with a knife's own hours. */
import { allocate, mulDiv } from './integers.ts';

/** Something taken of a lot, in the order it was taken. */
export interface Taking {
  /** Base units of the lot's form. */
  readonly qty: number;
}

/** A lot that came out, with what was taken of it and still stands. */
export interface LotTaken {
  /** The measure it carries of the making. */
  readonly share: number;
  /** Base units that came out. */
  readonly qty: number;
  readonly taken: readonly Taking[];
}

/** Each taking by its place in the running total, so that a later one never changes what an earlier one carries. */
const alongTheLot = (minutes: number, lot: LotTaken): number[] => {
  let upTo = 0;
  let given = 0;
  return lot.taken.map(({ qty }) => {
    // A count may have found more than came out: that carries no hours, or more would be carried than there were.
    upTo = Math.min(upTo + qty, lot.qty);
    const whole = mulDiv(minutes, upTo, lot.qty);
    const part = whole - given;
    given = whole;
    return part;
  });
};

/** Spread over all that came out: what still lies on the rack keeps its own part. */
const overAll = (minutes: number, lots: readonly LotTaken[]): number[][] => {
  const each = minutesByLot(minutes, lots);
  return lots.map((lot, at) => alongTheLot(each[at] ?? 0, lot));
};

/** All of it on what was taken so far, by the measure it carries; what lies on the rack carries none. */
const overTaken = (minutes: number, lots: readonly LotTaken[]): number[][] => {
  const weights = lots.map((lot) => lot.taken.map(({ qty }) => mulDiv(lot.share, qty, lot.qty)));
  const flat = weights.flat();
  // Only of a remnant that stands at zero: it carries no hours either.
  const parts = flat.some((weight) => weight > 0) ? allocate(minutes, flat) : [];
  let at = 0;
  return weights.map((own) => own.map(() => parts[at++] ?? 0));
};

/** Whole minutes of each lot that came out, by its share; they add up to all minutes. */
export const minutesByLot = (minutes: number, lots: readonly Pick<LotTaken, 'share'>[]): number[] =>
  lots.length === 0
    ? []
    : allocate(
        minutes,
        lots.map((lot) => lot.share),
      );

/**
 * Whole minutes each taking carries, lot by lot.
 * @param over `all`: the hours rest on all that came out; `taken`: only on what was taken so far, by largest remainder
 */
export const minutesByTaking = (
  minutes: number,
  lots: readonly LotTaken[],
  over: 'all' | 'taken',
): readonly (readonly number[])[] => (over === 'all' ? overAll(minutes, lots) : overTaken(minutes, lots));

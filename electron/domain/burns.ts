/** Gas and current of a firing: how much went, and what it cost. */
import { mulDiv } from './integers.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';

/** Gas gone between two weighings of the cylinder. @returns nanograms */
export const gasByWeight = (beforeNg: number, afterNg: number): Outcome<number> =>
  afterNg < beforeNg
    ? ok(beforeNg - afterNg)
    : refuse('The cylinder must weigh less after the firing than before. Check the two weights.');

/** Gas gone in a time of fire. @param rateNg nanograms an hour @returns nanograms */
export const gasByTime = (rateNg: number, minutes: number): number => mulDiv(rateNg, minutes, 60);

/** Current drawn by an oven whose elements are on for part of the time. @param dutyPpm parts per million @returns watt-hours */
export const ovenWattHours = (watts: number, dutyPpm: number, minutes: number): number =>
  mulDiv(watts * minutes, dutyPpm, 60_000_000);

/** What current costs. @param perKwhMicro price of a kilowatt-hour @returns millionths of the currency unit */
export const currentCost = (wattHours: number, perKwhMicro: number): number =>
  mulDiv(wattHours, perKwhMicro, 1000);

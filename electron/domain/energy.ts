/** Heat in fuel and in current, and how long a cylinder lasts. */
import { mulDiv } from './integers.ts';
import { over, rational, times, toInteger } from './rational.ts';
import type { Rational } from './rational.ts';

/** One British thermal unit (International Table) in joules: 1.055 05585262 kJ, by definition. */
const JOULES_PER_BTU: Rational = rational(105_505_585_262n, 100_000_000n);

/** Heat of one pound of propane after vaporising, in Btu. Source: patioheat.com; other tables give 21,591 gross. */
export const PROPANE_BTU_PER_LB = 21_548;

/** Nanograms of a pound: 0.45359237 kg, by definition. */
const POUND_NG = 453_592_370_000;

/** Heat in some propane, in Btu, rounded. @param ng nanograms */
export const propaneBtu = (ng: number): number => mulDiv(ng, PROPANE_BTU_PER_LB, POUND_NG);

/** Btu as watt-hours, rounded. */
export const btuToWattHours = (btu: number): number =>
  toInteger(over(times(rational(btu), JOULES_PER_BTU), rational(3600)));

/** Btu as joules, rounded. */
export const btuToJoules = (btu: number): number => toInteger(times(rational(btu), JOULES_PER_BTU));

/** What a burner of a rated output burns. @param btuPerHour as on its plate @returns nanograms of propane an hour */
export const propaneRate = (btuPerHour: number): number => mulDiv(btuPerHour, POUND_NG, PROPANE_BTU_PER_LB);

/** How long gas lasts at a rate, in whole minutes rounded down: better to stop early. Null without a rate. */
export const gasMinutes = (leftNg: number, rateNg: number): number | null =>
  rateNg <= 0 ? null : Number((BigInt(leftNg) * 60n) / BigInt(rateNg));

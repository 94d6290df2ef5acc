/** What trips come to: distance times the rate in force on their day. */
import { roundHalfAwayBig, toSafe } from './integers.ts';
import { MICRO_DECIMALS } from './money.ts';

export type DistanceUnit = 'mi' | 'km';

export interface MileageRate {
  /** First day it holds. */
  readonly from: string;
  readonly unit: DistanceUnit;
  /** For one mile or kilometre, millionths of the currency unit. */
  readonly perUnitMicro: number;
}

/** An international mile is 1 609 344 mm exactly (international yard and pound agreement, 1959). */
const MM: Readonly<Record<DistanceUnit, bigint>> = { mi: 1_609_344n, km: 1_000_000n };

/** The rate that holds on a day: the latest that began by then. */
export const rateOn = <R extends { readonly from: string }>(
  rates: readonly R[],
  day: string,
): R | undefined => rates.filter(({ from }) => from <= day).toSorted((a, b) => (a.from < b.from ? 1 : -1))[0];

/**
 * A trip in minor units, rounded once.
 * @param distance in thousandths of its unit
 * @param decimals of the currency
 */
export function tripAmount(
  distance: { readonly milli: number; readonly unit: DistanceUnit },
  rate: Pick<MileageRate, 'unit' | 'perUnitMicro'>,
  decimals: number,
): number {
  const top = BigInt(distance.milli) * MM[distance.unit] * BigInt(rate.perUnitMicro);
  const bottom = 1000n * MM[rate.unit] * 10n ** BigInt(MICRO_DECIMALS - decimals);
  return toSafe(roundHalfAwayBig(top, bottom));
}

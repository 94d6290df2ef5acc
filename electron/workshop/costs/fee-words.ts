/** A channel's fee by its rule, and in words how it was reckoned. */
import { type Charge, feeOn } from '../../domain/fees.ts';
import { formatMinor } from '../../domain/money.ts';
import { decimalText, trimZeros } from '../../domain/rational.ts';

export interface FeeTerms {
  readonly fee_ppm: number;
  readonly fee_fixed_minor: number;
  readonly abroad_extra_ppm: number;
}

/** `29 000` as `2.9 %`. @param ppm parts per million */
export const percentText = (ppm: number): string => `${trimZeros(decimalText(ppm, 4))} %`;

/** Fee on a charge by the channel's rule, minor unit. */
export const feeByRule = (terms: FeeTerms, charge: Charge): number =>
  feeOn(
    {
      percentPpm: terms.fee_ppm,
      fixedMinor: terms.fee_fixed_minor,
      abroadExtraPpm: terms.abroad_extra_ppm,
    },
    charge,
  );

/** E.g. `2.9 % of 162.00 and 0.30`. */
export function feeWords(terms: FeeTerms, totalMinor: number, abroad: boolean, currency: string): string {
  if (totalMinor === 0) return 'Nothing is charged, so there is no fee.';
  const parts = [
    terms.fee_ppm === 0 ? '' : percentText(terms.fee_ppm),
    abroad && terms.abroad_extra_ppm > 0 ? `${percentText(terms.abroad_extra_ppm)} for abroad` : '',
  ].filter((part) => part !== '');
  const share = parts.length === 0 ? '' : `${parts.join(' and ')} of ${formatMinor(totalMinor, currency)}`;
  const fixed = terms.fee_fixed_minor === 0 ? '' : formatMinor(terms.fee_fixed_minor, currency);
  return [share, fixed].filter((part) => part !== '').join(' and ') || 'This channel takes no fee.';
}

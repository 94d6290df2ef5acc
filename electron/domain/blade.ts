/** How long a blade is, in words. */
import { decimalText, trimZeros } from './rational.ts';
import { roundHalfAway } from './integers.ts';

const NM_OF_MICROMETRE = 1000;
const NM_OF_TENTH_INCH = 2_540_000;

/** `220 mm`, or `220 mm (8.7 in)` for somebody who thinks in inches. @param nm nanometres */
export function bladeText(nm: number, inches: boolean): string {
  const mm = `${trimZeros(decimalText(roundHalfAway(nm, NM_OF_MICROMETRE), 3))} mm`;
  return inches ? `${mm} (${decimalText(roundHalfAway(nm, NM_OF_TENTH_INCH), 1)} in)` : mm;
}

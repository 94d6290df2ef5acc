/** How long a blade is, in words. */
import { roundHalfAway } from './integers.ts';
import { formatQuantity } from './quantity.ts';
import { decimalText, trimZeros } from './rational.ts';

const NM_OF_MICROMETRE = 1000;
const NM_OF_TENTH_INCH = 2_540_000;

const NM_OF_TENTH_MM = 100_000;
/** The finest fraction on a rule, one sixty-fourth of an inch, is a whole number of nanometres. */
const NM_OF_SIXTY_FOURTH = 396_875;

/**
 * `220 mm`; for somebody who thinks in inches what it was measured in comes first, `220 mm (8.7 in)` or
 * `8 1/4 in (209.6 mm)`. @param nm nanometres
 */
export function bladeText(nm: number, inches: boolean): string {
  if (inches && nm % NM_OF_SIXTY_FOURTH === 0) {
    const tenths = decimalText(roundHalfAway(nm, NM_OF_TENTH_MM), 1);
    return `${formatQuantity(nm, 'length', 'in')} (${trimZeros(tenths)} mm)`;
  }
  const mm = `${trimZeros(decimalText(roundHalfAway(nm, NM_OF_MICROMETRE), 3))} mm`;
  return inches ? `${mm} (${decimalText(roundHalfAway(nm, NM_OF_TENTH_INCH), 1)} in)` : mm;
}

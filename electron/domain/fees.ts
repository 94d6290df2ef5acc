/** What a channel or payment processor keeps of a charge. */
import { mulDiv } from './integers.ts';
import { PPM } from './tax.ts';

export interface FeeRule {
  /** Parts per million of the whole charge: 2.9 % is 29 000. */
  readonly percentPpm: number;
  /** Added to every charge, minor unit. */
  readonly fixedMinor: number;
  /** Added to the percentage when the buyer pays from abroad. */
  readonly abroadExtraPpm: number;
}

export interface Charge {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  readonly abroad: boolean;
}

/** Fee on one charge: the percentage of price, shipping and tax together, rounded once, and the fixed part. Nothing charged, no fee. */
export const feeOn = (rule: FeeRule, charge: Charge): number => {
  const total = charge.priceMinor + charge.shippingMinor + charge.taxMinor;
  if (total <= 0) return 0;
  return mulDiv(total, rule.percentPpm + (charge.abroad ? rule.abroadExtraPpm : 0), PPM) + rule.fixedMinor;
};

/** What a sale leaves, and what that is per hour. One reckoning for sheets, lists and reports. */
import { mulDiv } from './integers.ts';

/** What a sale brings and what it takes, minor unit. */
export interface SaleBalance {
  readonly priceMinor: number;
  /** Shipping charged. */
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
  /** Materials, consumables, energy and packaging. */
  readonly directMinor: number;
}

/** Contribution of a sale: price + shipping charged − postage paid − fee − direct cost. */
export const contributionOf = (sale: SaleBalance): number =>
  sale.priceMinor + sale.shippingMinor - sale.postageMinor - sale.feeMinor - sale.directMinor;

/** Amount per hour from minutes, rounded once; null without any. */
export const perHour = (amount: number, minutes: number): number | null =>
  minutes === 0 ? null : mulDiv(amount, 60, minutes);

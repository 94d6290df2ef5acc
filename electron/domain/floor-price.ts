/** The least price of a knife that pays for everything it takes, with fee and tax reckoned on the whole charge. Minor units. */
import { type FeeRule, feeOn } from './fees.ts';
import { ok, type Outcome, refuse } from './outcome.ts';
import { computeTax, PPM, type TaxRule } from './tax.ts';

/** What a price has to pay for, and who keeps a part of it. */
export interface FloorTerms {
  /** Shipping charged, as the place counts it. */
  readonly shippingMinor: number;
  /** What posting the knife costs. */
  readonly postageMinor: number;
  /** Goods and paid hours together. */
  readonly spentMinor: number;
  readonly fee: FeeRule;
  readonly abroad: boolean;
  readonly tax: TaxRule;
}

/** What a price comes to. */
export interface Brought {
  /** Price and shipping without tax. */
  readonly netMinor: number;
  /** Price alone without tax. */
  readonly netPriceMinor: number;
  readonly taxMinor: number;
  /** What the buyer pays. */
  readonly grossMinor: number;
  readonly feeMinor: number;
  /** Net less postage, fee and what is spent. */
  readonly leftMinor: number;
}

/** What a price brings under some terms. @param priceMinor as the place counts it, with tax inside where it says so */
export const broughtBy = (terms: FloorTerms, priceMinor: number): Brought => {
  const { shippingMinor, tax, abroad } = terms;
  const shipping = { kind: 'shipping', amountMinor: shippingMinor } as const;
  const whole = computeTax(tax, [{ kind: 'price', amountMinor: priceMinor }, shipping]);
  const { netMinor, taxMinor, grossMinor } = whole;
  const feeMinor = feeOn(terms.fee, { priceMinor: netMinor, shippingMinor: 0, taxMinor, abroad });
  return {
    netMinor,
    netPriceMinor: netMinor - computeTax(tax, [shipping]).netMinor,
    taxMinor,
    grossMinor,
    feeMinor,
    leftMinor: netMinor - terms.postageMinor - feeMinor - terms.spentMinor,
  };
};

/** What is kept of one more unit of price, without rounding. */
const keptOfOne = ({ fee, abroad, tax }: FloorTerms): number => {
  const rate = tax.onPrice ? tax.ratePpm / PPM : 0;
  const share = (fee.percentPpm + (abroad ? fee.abroadExtraPpm : 0)) / PPM;
  return tax.inclusive ? 1 / (1 + rate) - share : 1 - share * (1 + rate);
};

/** Further from the line than this no rounding of tax and fee can be. */
const ROUNDING = 4;
/** A price beyond this is no price of a knife. */
const MOST = 1e12;

/**
 * The least price at which nothing is left over and nothing is missing: the first one that leaves zero or more.
 * Refuses a channel that keeps all it brings.
 */
export const floorPrice = (terms: FloorTerms): Outcome<number> => {
  const left = (price: number): number => broughtBy(terms, price).leftMinor;
  if (left(0) >= 0) return ok(0);
  const kept = keptOfOne(terms);
  const far = terms.spentMinor + terms.postageMinor + 1;
  const start = Math.floor(far - (left(far) + ROUNDING) / kept);
  if (!(kept > 0) || start > MOST)
    return refuse(
      'This channel keeps as much of a price as it brings, so no price is high enough. Choose another way to be paid, or correct its fee.',
    );
  let price = Math.max(0, start);
  while (left(price) < 0) price += 1;
  return ok(price);
};

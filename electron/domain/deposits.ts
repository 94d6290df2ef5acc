/** Deposits on a knife made to order: how much is asked ahead, and what of it is kept when the order is cancelled. */
import { mulDiv } from './integers.ts';
import { PPM } from './tax.ts';

/** Until when a deposit can be asked back: always, until steel is cut, never. */
export const refundableRules = ['always', 'untilWork', 'never'] as const;
export type RefundableRule = (typeof refundableRules)[number];

/** What the maker asks ahead. Shares are parts per million, amounts in the minor unit. */
export interface DepositRule {
  /** Of the price with its options, without the special material. */
  readonly percentPpm: number;
  /** Never less than this, as long as the knife costs as much. */
  readonly leastMinor: number;
  /** Of the special material: stuff bought for this one knife that nobody else may want. */
  readonly specialPpm: number;
  readonly refundable: RefundableRule;
  /** Of the deposit, once it cannot be asked back any more. */
  readonly keptPpm: number;
}

/** A rule as it was agreed, with the days there are to pay. */
export interface AgreedTerms extends DepositRule {
  readonly name: string;
  readonly depositDays: number;
  readonly balanceDays: number;
}

/** What a knife made to order costs, minor unit. */
export interface OrderPrice {
  readonly priceMinor: number;
  readonly optionsMinor: number;
  readonly specialMinor: number;
}

/** Price, options and special material together, without shipping. */
export const orderTotal = (price: OrderPrice): number =>
  price.priceMinor + price.optionsMinor + price.specialMinor;

/** The deposit a rule asks for, each share rounded once; never more than the knife costs. */
export function depositFor(rule: DepositRule, price: OrderPrice): number {
  const share =
    mulDiv(price.priceMinor + price.optionsMinor, rule.percentPpm, PPM) +
    mulDiv(price.specialMinor, rule.specialPpm, PPM);
  return Math.min(orderTotal(price), Math.max(share, rule.leastMinor));
}

/** How a cancelled order's deposit is parted. Both parts add up to what was paid. */
export interface CancelledDeposit {
  readonly keptMinor: number;
  readonly refundMinor: number;
  /** Why so, for a person. */
  readonly because: string;
}

const untouched = (paidMinor: number, because: string): CancelledDeposit => ({
  keptMinor: 0,
  refundMinor: paidMinor,
  because,
});

/**
 * Parts a deposit by the terms agreed.
 * @param paidMinor what the buyer has paid, minor unit
 * @param workBegun whether steel was cut for the order
 */
export function partDeposit(rule: DepositRule, paidMinor: number, workBegun: boolean): CancelledDeposit {
  if (paidMinor <= 0) return untouched(Math.max(0, paidMinor), 'Nothing was paid.');
  if (rule.refundable === 'always') return untouched(paidMinor, 'The whole deposit can be asked back.');
  if (rule.refundable === 'untilWork' && !workBegun)
    return untouched(paidMinor, 'No steel was cut yet, so the whole deposit goes back.');
  const keptMinor = mulDiv(paidMinor, rule.keptPpm, PPM);
  return {
    keptMinor,
    refundMinor: paidMinor - keptMinor,
    because:
      rule.refundable === 'never'
        ? 'By the terms agreed the deposit is not given back in full.'
        : 'Steel was cut, so a part of the deposit is kept by the terms agreed.',
  };
}

/** Common practice, no source: offered to the maker, in force only once taken over. */
export const usualTerms: AgreedTerms = {
  name: 'Usual deposit',
  percentPpm: 300_000,
  leastMinor: 0,
  specialPpm: PPM,
  refundable: 'untilWork',
  keptPpm: 500_000,
  depositDays: 7,
  balanceDays: 7,
};

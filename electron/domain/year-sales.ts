/**
 * Sales of a year, told by what happened when: sold on one day, credited or taken back on another. A year that is over
 * is not changed by a knife that comes back later. Amounts in the minor unit, without sales tax.
 */
import { addDays } from './calendar.ts';
import { contributionOf, perHour } from './earnings.ts';
import { sumOf } from './integers.ts';
import type { YearSpan } from './fiscal-year.ts';

/** Why a knife is gone whose whole price was given back though it never came home: lost on its way, not kept or given. */
export const LOST_TO_BUYER = 'credited, not returned';

/** One sale with all that happened to it. */
export interface SaleFacts {
  readonly id: string;
  readonly buildId: string;
  readonly on: string;
  readonly takenBackOn: string | null;
  /** With an invoice, credits say what is left; without one, what was kept does. */
  readonly hasInvoice: boolean;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  /** Kept for restocking when it came back, without tax. */
  readonly keptMinor: number;
  /** The tax on it, of a sale without an invoice. */
  readonly keptTaxMinor: number;
  /** Credits of its invoice, amounts above zero. */
  readonly credits: readonly { readonly on: string; readonly netMinor: number; readonly taxMinor: number }[];
  readonly postageMinor: number;
  readonly feeMinor: number;
  /** Bench time on the knife. */
  readonly minutes: number;
}

/** What a sale stands at on a day. */
interface Standing {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  /** The knife is with the buyer. */
  readonly out: boolean;
}

const NOTHING: Standing = { priceMinor: 0, shippingMinor: 0, taxMinor: 0, out: false };

/** What stands of a sale at the end of a day; a credit lowers the price first, and what was kept counts as price. */
export function standingAt(sale: SaleFacts, day: string): Standing {
  if (sale.on > day) return NOTHING;
  const back = sale.takenBackOn !== null && sale.takenBackOn <= day;
  if (back && !sale.hasInvoice)
    return { ...NOTHING, priceMinor: sale.keptMinor, taxMinor: sale.keptTaxMinor };
  const credits = sale.credits.filter(({ on }) => on <= day);
  const credited = sumOf(credits, ({ netMinor }) => netMinor);
  const ofPrice = Math.min(credited, sale.priceMinor);
  const left = { price: sale.priceMinor - ofPrice, shipping: sale.shippingMinor - (credited - ofPrice) };
  return {
    priceMinor: back ? left.price + left.shipping : left.price,
    shippingMinor: back ? 0 : left.shipping,
    taxMinor: sale.taxMinor - sumOf(credits, ({ taxMinor }) => taxMinor),
    out: !back,
  };
}

/** What a sale brings to a span of days; below zero where more went back than came in. */
export interface SaleDelta {
  /** 1: sold in it; -1: came back in it after it was sold before; 0: both, or neither. */
  readonly count: number;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
  readonly minutes: number;
}

/** The difference between what stood of a sale before a span and at its end; postage and fee count when it was sold. */
export function saleIn(sale: SaleFacts, { from, to }: YearSpan): SaleDelta {
  // Nearly every sale is sold once and stays as it is.
  const before = sale.on >= from ? NOTHING : standingAt(sale, addDays(from, -1));
  const after = standingAt(sale, to);
  const count = Number(after.out) - Number(before.out);
  const sold = from <= sale.on && sale.on <= to;
  return {
    count,
    priceMinor: after.priceMinor - before.priceMinor,
    shippingMinor: after.shippingMinor - before.shippingMinor,
    taxMinor: after.taxMinor - before.taxMinor,
    postageMinor: sold ? sale.postageMinor : 0,
    feeMinor: sold ? sale.feeMinor : 0,
    minutes: count * sale.minutes,
  };
}

/** A knife's part in the year: what its sale brought, and what the knife had cost. */
interface SoldRow {
  readonly delta: SaleDelta;
  readonly directMinor: number;
}

/** Sold knives added up. */
interface SoldSum {
  readonly count: number;
  readonly salesMinor: number;
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
  readonly directMinor: number;
  readonly contributionMinor: number;
  readonly minutes: number;
  readonly perHourMinor: number | null;
}

/** Adds up; contribution as everywhere, see `contributionOf`. */
export function sumSold(rows: readonly SoldRow[]): SoldSum {
  const of = (pick: (delta: SaleDelta) => number): number => sumOf(rows, ({ delta }) => pick(delta));
  const parts = {
    priceMinor: of((delta) => delta.priceMinor),
    shippingMinor: of((delta) => delta.shippingMinor),
    postageMinor: of((delta) => delta.postageMinor),
    feeMinor: of((delta) => delta.feeMinor),
    directMinor: sumOf(rows, (row) => row.directMinor),
  };
  const { priceMinor: salesMinor, ...others } = parts;
  const contributionMinor = contributionOf(parts);
  const minutes = of((delta) => delta.minutes);
  return {
    count: of((delta) => delta.count),
    salesMinor,
    ...others,
    contributionMinor,
    minutes,
    // Hours below nothing: more came back than went out.
    perHourMinor: minutes > 0 ? perHour(contributionMinor, minutes) : null,
  };
}

/** Rows by a key, in the order the keys first come. */
export function groupRows<R>(
  rows: readonly R[],
  keyOf: (row: R) => string,
): ReadonlyMap<string, readonly R[]> {
  const groups = new Map<string, R[]>();
  for (const row of rows) {
    const own = groups.get(keyOf(row));
    if (own === undefined) groups.set(keyOf(row), [row]);
    else own.push(row);
  }
  return groups;
}

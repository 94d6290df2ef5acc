/** What each way would fetch: the order's price, the list, or what own seconds went for. */
import { mulDiv } from '../../domain/integers.ts';
import { quantilesOf } from '../../domain/quantiles.ts';
import { taxOn } from '../../domain/tax.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelPriceRows } from '../../storage/queries/models.ts';
import { orderOfBuild, type OrderRecord, orderRecord, orderTagOf } from '../../storage/queries/orders.ts';
import { ownSeconds } from '../../storage/queries/ways.ts';
import { netOf, standingOf } from '../costs/net.ts';
import { orderTax } from '../orders/money.ts';
import { totalOf } from '../orders/rows.ts';
import { taxColumns } from '../selling/reckon.ts';
import { needWorkshop } from '../workshop/need.ts';

const PPM = 1_000_000;
/** Seconds go for 20 to 50 % less; the lower middle. Common practice, no source. */
const USUAL_SECOND_PPM = 700_000;

export interface Price {
  readonly minor: number;
  readonly how: string;
}

/** List price of a model on a day, as it is listed. */
export function listPrice(db: ReadDb, modelId: string, on: string): Price | undefined {
  const row = modelPriceRows(db, modelId).find((price) => price.from_date <= on);
  return row && { minor: row.price_minor, how: `list price since ${row.from_date}` };
}

/** List price without the tax that is in it where prices are listed with theirs. */
export function netListPrice(db: ReadDb, modelId: string, on: string): Price | undefined {
  const listed = listPrice(db, modelId, on);
  if (listed === undefined) return undefined;
  const tax = taxColumns(db, needWorkshop(db).homeTaxPlaceId, listed.minor, 0);
  if (tax.tax_inclusive === 0 || tax.tax_minor === 0) return listed;
  return { minor: listed.minor - tax.tax_minor, how: `${listed.how}, without the tax in it` };
}

/** The agreed order a knife is made for. */
export function orderFor(db: ReadDb, buildId: string): OrderRecord | undefined {
  const link = orderOfBuild(db, buildId);
  const order = link?.until_on === null ? orderRecord(db, link.id) : undefined;
  return order?.state === 'agreed' ? order : undefined;
}

/** Knife, options and special material of an order without the tax its prices may hold. */
function netPrice(db: ReadDb, order: OrderRecord, totalMinor: number): number {
  const tax = orderTax(db, order, totalMinor);
  return netOf({ ...tax, price_minor: totalMinor, shipping_minor: order.shipping_minor }).priceMinor;
}

/** What is agreed for this very knife, else its list price. */
export function plannedPrice(db: ReadDb, buildId: string, modelId: string, on: string): Price | undefined {
  const order = orderFor(db, buildId);
  const total = order === undefined ? null : totalOf(order);
  if (order !== undefined && total !== null)
    return {
      minor: netPrice(db, order, total),
      how: `agreed in ${orderTagOf(order.number)} for ${order.buyer_name}`,
    };
  return netListPrice(db, modelId, on);
}

/** What of the full price own seconds fetched, both without tax and credits taken off. */
function secondShare(db: ReadDb): { readonly ppm: number; readonly how: string } {
  const shares = ownSeconds(db).flatMap((row) => {
    const listed = row.list_minor ?? 0;
    const full = row.tax_inclusive === 1 ? listed - taxOn(listed, row.tax_rate_ppm, true) : listed;
    return full === 0 ? [] : [standingOf(row).priceMinor / full];
  });
  if (shares.length === 0)
    return {
      ppm: USUAL_SECOND_PPM,
      how: '30 % less than the full price (common practice; none of your own sold yet)',
    };
  const [middle = 0] = quantilesOf(shares, [0.5]);
  const less = Math.round((1 - middle) * 100);
  return {
    ppm: Math.round(middle * PPM),
    how: `${String(less)} % less than the full price, as ${shares.length === 1 ? 'your own second' : `the middle of your ${String(shares.length)} own seconds`} went`,
  };
}

/** A price as a second. */
export const asSecond = (db: ReadDb, full: Price | undefined): Price | undefined => {
  const share = secondShare(db);
  return full && { minor: mulDiv(full.minor, share.ppm, PPM), how: share.how };
};

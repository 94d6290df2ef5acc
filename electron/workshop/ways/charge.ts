/** What a buyer pays in one charge if the knife is sold, and what the channel keeps of it. */
import type { WayKind } from '../../api/ways.ts';
import { taxOn } from '../../domain/tax.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderPaperRows } from '../../storage/queries/orders.ts';
import { channelRecord } from '../../storage/queries/selling.ts';
import { usualChannel } from '../../storage/queries/ways.ts';
import { feeByRule, feeWords } from '../costs/fee-words.ts';
import { netOf } from '../costs/net.ts';
import { moneyOf } from '../orders/money.ts';
import { type TaxColumns, taxColumns } from '../selling/reckon.ts';
import { needWorkshop } from '../workshop/need.ts';
import { orderFor } from './prices.ts';
import { usualPosting } from './spend.ts';

/** Around a price: who keeps a fee of it, and what else is in the charge. */
interface Terms {
  readonly channel: ReturnType<typeof channelRecord>;
  readonly abroad: boolean;
  /** Without tax. */
  readonly shippingMinor: number;
  readonly tax: TaxColumns;
  /** Paid ahead; its fee is gone whichever way is taken. */
  readonly prepaidMinor: number;
}

/** Terms of a knife nobody has ordered: sold at home as most were. */
function openTerms(db: ReadDb): Terms {
  return {
    channel: usualChannel(db),
    abroad: false,
    shippingMinor: usualPosting(db).shippingMinor,
    tax: taxColumns(db, needWorkshop(db).homeTaxPlaceId, 0, 0),
    prepaidMinor: 0,
  };
}

/** Terms of the order a knife is made for. A knife that becomes another one, or a second, is sold anew. */
function termsOf(db: ReadDb, way: WayKind, buildId: string): Terms {
  const order = way === 'asPlanned' || way === 'rework' ? orderFor(db, buildId) : undefined;
  const agreed = order === undefined ? null : moneyOf(db, order, orderPaperRows(db, order.id));
  if (order === undefined || agreed === null) return openTerms(db);
  const tax = taxColumns(db, order.tax_place_id, 0, order.shipping_minor);
  return {
    channel: order.channel_id === null ? usualChannel(db) : channelRecord(db, order.channel_id),
    abroad: order.abroad === 1,
    shippingMinor: netOf({ ...tax, price_minor: 0, shipping_minor: order.shipping_minor }).shippingMinor,
    tax,
    prepaidMinor: agreed.prepaidMinor,
  };
}

/**
 * Fee on the whole charge: price, shipping and tax, less what was paid ahead.
 * @param priceMinor without tax
 */
export function feeAhead(
  db: ReadDb,
  { way, buildId, currency }: { readonly way: WayKind; readonly buildId: string; readonly currency: string },
  priceMinor: number,
): { readonly feeMinor: number; readonly feeHow: string } {
  const { channel, abroad, shippingMinor, tax, prepaidMinor } = termsOf(db, way, buildId);
  if (channel === undefined || priceMinor === 0) return { feeMinor: 0, feeHow: '' };
  const taxed = priceMinor + (tax.tax_on_shipping === 1 ? shippingMinor : 0);
  const taxMinor = taxOn(taxed, tax.tax_rate_ppm, false);
  const chargeMinor = Math.max(0, priceMinor + shippingMinor + taxMinor - prepaidMinor);
  const charge = { priceMinor: chargeMinor, shippingMinor: 0, taxMinor: 0, abroad };
  const less = prepaidMinor === 0 ? '' : ', less what was paid ahead';
  return {
    feeMinor: feeByRule(channel, charge),
    feeHow: `${feeWords(channel, chargeMinor, abroad, currency)}: price, shipping and tax${less}`,
  };
}

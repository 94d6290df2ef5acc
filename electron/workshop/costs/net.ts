/** Price and shipping without tax, whatever way the place counts it. */
import { allocate } from '../../domain/integers.ts';
import { taxOn } from '../../domain/tax.ts';

/** A sale as the books hold it: amounts as priced, with tax in them where `tax_inclusive`. */
export interface PricedSale {
  readonly price_minor: number;
  readonly shipping_minor: number;
  readonly tax_minor: number;
  readonly tax_rate_ppm: number;
  readonly tax_on_shipping: number;
  readonly tax_inclusive: number;
  readonly tax_rounding: string;
}

export interface NetSale {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  /** Net amounts and tax together: what the buyer pays. */
  readonly totalMinor: number;
  /** The part of the net amounts the tax is on. */
  readonly taxBaseMinor: number;
}

/** Tax inside price and inside shipping; they add up to the tax of the sale. */
function insideTax(sale: PricedSale): readonly [number, number] {
  // Tax taken over from another program may be a cent off; it must not turn into shipping nobody charged.
  if (sale.tax_on_shipping === 0 || sale.shipping_minor === 0) return [sale.tax_minor, 0];
  const byLine = taxOn(sale.price_minor, sale.tax_rate_ppm, true);
  if (sale.tax_rounding === 'line') return [byLine, sale.tax_minor - byLine];
  const [price = 0, shipping = 0] = allocate(sale.tax_minor, [sale.price_minor, sale.shipping_minor]);
  return [price, shipping];
}

/** Takes the tax out where it is inside; net and tax always add up to the total. */
export function netOf(sale: PricedSale): NetSale {
  const [inPrice, inShipping] = sale.tax_inclusive === 1 ? insideTax(sale) : [0, 0];
  const priceMinor = sale.price_minor - inPrice;
  const shippingMinor = sale.shipping_minor - inShipping;
  return {
    priceMinor,
    shippingMinor,
    totalMinor: priceMinor + shippingMinor + sale.tax_minor,
    taxBaseMinor: priceMinor + (sale.tax_on_shipping === 1 ? shippingMinor : 0),
  };
}

/** A sale with what credits took off its invoice since. */
export interface CreditedSale extends PricedSale {
  readonly credited_net: number;
  readonly credited_tax: number;
}

/** Price, shipping and tax that still stand of a sale after part credits; what was credited lowers the price first. */
export function standingOf(sale: CreditedSale): {
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly taxMinor: number;
} {
  const net = netOf(sale);
  const ofPrice = Math.min(sale.credited_net, net.priceMinor);
  return {
    priceMinor: net.priceMinor - ofPrice,
    shippingMinor: net.shippingMinor - (sale.credited_net - ofPrice),
    taxMinor: sale.tax_minor - sale.credited_tax,
  };
}

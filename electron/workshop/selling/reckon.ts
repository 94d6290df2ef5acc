/** What a sale comes to: tax by its place, fee by its channel. */
import { invalid } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { fitsMicro } from '../../domain/money.ts';
import { computeTax } from '../../domain/tax.ts';
import type { ReadDb } from '../../storage/db.ts';
import { channelRecord } from '../../storage/queries/selling.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import { feeByRule, feeWords } from '../costs/fee-words.ts';
import { netOf, type NetSale } from '../costs/net.ts';

export type SaleTerms = Parsed<'selling.figures'>;

/** The tax columns of a sale: a copy of the place's rule, so that a later change leaves the sale alone. */
export type TaxColumns = Pick<
  SalesTable,
  | 'tax_place_id'
  | 'tax_label'
  | 'tax_rate_ppm'
  | 'tax_on_shipping'
  | 'tax_inclusive'
  | 'tax_rounding'
  | 'tax_note'
  | 'tax_category'
  | 'tax_minor'
>;

export interface Reckoned {
  readonly tax: TaxColumns;
  readonly net: NetSale;
  readonly feeMinor: number;
  readonly feeHow: string;
}

const untaxed: TaxColumns = {
  tax_place_id: null,
  tax_label: '',
  tax_rate_ppm: 0,
  tax_on_shipping: 0,
  tax_inclusive: 0,
  tax_rounding: 'invoice',
  tax_note: '',
  tax_category: '',
  tax_minor: 0,
};

/** Tax on price and shipping by a place's rule of today. @throws FaultError for an unknown place */
export function taxColumns(
  db: ReadDb,
  placeId: string | null,
  priceMinor: number,
  shippingMinor: number,
): TaxColumns {
  if (placeId === null) return untaxed;
  const place = taxPlaceRow(db, placeId);
  if (!place) throw invalid('This tax place is not in the books. Choose another.', 'taxPlaceId');
  const rule = {
    ratePpm: place.rate_ppm,
    onPrice: true,
    onShipping: place.on_shipping === 1,
    rounding: place.rounding === 'line' ? ('line' as const) : ('invoice' as const),
    inclusive: place.inclusive === 1,
  };
  const tax = computeTax(rule, [
    { kind: 'price', amountMinor: priceMinor },
    { kind: 'shipping', amountMinor: shippingMinor },
  ]);
  return {
    tax_place_id: place.id,
    tax_label: place.label,
    tax_rate_ppm: place.rate_ppm,
    tax_on_shipping: place.on_shipping,
    tax_inclusive: place.inclusive,
    tax_rounding: place.rounding,
    tax_note: place.note,
    tax_category: place.category,
    tax_minor: tax.taxMinor,
  };
}

/** Selling amounts that a cost sheet shows. */
type Amounts = Partial<Pick<SaleTerms, 'priceMinor' | 'shippingMinor' | 'postagePaidMinor' | 'feeMinor'>>;

/** @throws FaultError for an amount that a cost sheet could not show, naming its field */
export function demandHoldable(amounts: Amounts, decimals: number): void {
  for (const [field, minor] of Object.entries(amounts)) {
    if (minor !== undefined && !fitsMicro(minor, decimals))
      throw invalid('This is more than the books can hold. Check the amount.', field);
  }
}

/** Reckons a sale. @throws FaultError for an unknown channel or tax place */
export function reckon(db: ReadDb, terms: SaleTerms, currency: string): Reckoned {
  const channel = channelRecord(db, terms.channelId);
  if (!channel) throw invalid('This way of selling is not in the books. Choose another.', 'channelId');
  const { priceMinor, shippingMinor, postagePaidMinor, feeMinor } = terms;
  demandHoldable({ priceMinor, shippingMinor, postagePaidMinor, feeMinor }, decimalsOf(currency));
  const tax = taxColumns(db, terms.taxPlaceId, terms.priceMinor, terms.shippingMinor);
  const net = netOf({ ...tax, price_minor: terms.priceMinor, shipping_minor: terms.shippingMinor });
  return {
    tax,
    net,
    feeMinor: terms.feeMinor ?? feeByRule(channel, { ...net, taxMinor: tax.tax_minor, abroad: terms.abroad }),
    feeHow:
      terms.feeMinor === undefined ? feeWords(channel, net.totalMinor, terms.abroad, currency) : 'as entered',
  };
}

/** Both parties of an invoice and how to pay it, in parts, as they stood when it was issued. */
import type { InvoicePaper } from '../../documents/types.ts';
import { addressText } from '../../domain/addresses.ts';
import type { BuyerRecord } from '../../storage/queries/selling.ts';
import type { House } from '../costs/house.ts';

/** What an invoice says about its buyer. */
export type InvoicedBuyer = Pick<
  BuyerRecord,
  'id' | 'name' | 'address' | 'city' | 'region' | 'postcode' | 'country' | 'tax_number' | 'language'
>;

/** One side of an invoice. Empty text: not known. */
export interface Party {
  readonly name: string;
  /** Street lines; the whole address where it is not in parts. */
  readonly street: string;
  readonly city: string;
  readonly region: string;
  readonly postcode: string;
  /** ISO 3166-1 alpha-2. */
  readonly country: string;
  readonly taxNumber: string;
  readonly registerNumber: string;
  readonly email: string;
  readonly phone: string;
  readonly website: string;
}

/** An earlier deposit invoice, with what was paid on it. */
export interface NamedDeposit {
  readonly number: string;
  readonly issuedOn: string;
  /** Tax in it included. */
  readonly paidMinor: number;
  /** Tax owed with the deposit already. */
  readonly taxMinor: number;
}

/** The snapshot in `invoices.particulars`, which a structured invoice is made from. */
export interface Particulars {
  readonly seller: Party;
  readonly buyer: Party;
  readonly account: { readonly iban: string; readonly bic: string; readonly bankName: string };
  /** Code of the reason why no tax is charged (VATEX); empty without one. */
  readonly reasonCode: string;
  readonly deposits: readonly NamedDeposit[];
  /** Printed under the totals, beside the note. */
  readonly notes: readonly string[];
  /** What goes with the knife, as it was printed. */
  readonly remarks: InvoicePaper['remarks'];
  /** The place whose rule taxes it: an order may be taxed elsewhere later, what was invoiced stays where it was. */
  readonly taxPlaceId: string | null;
  /** Paid whole in the step that issued it: its paper then says so, and not how to pay. */
  readonly settled: boolean;
}

/** The workshop as a party. */
export const sellerParty = ({ shop }: House): Party => ({
  name: shop.name,
  street: shop.address,
  city: shop.city,
  region: shop.region,
  postcode: shop.postcode,
  country: shop.country,
  taxNumber: shop.tax_number,
  registerNumber: shop.register_number,
  email: shop.email,
  phone: shop.phone,
  website: shop.website,
});

/** A buyer as a party. */
export const buyerParty = (buyer: InvoicedBuyer): Party => ({
  name: buyer.name,
  street: buyer.address,
  city: buyer.city,
  region: buyer.region,
  postcode: buyer.postcode,
  country: buyer.country,
  taxNumber: buyer.tax_number,
  registerNumber: '',
  email: '',
  phone: '',
  website: '',
});

/** The address as it is printed, in the order of its country. */
export const printedAddress = ({ street, city, region, postcode, country }: Party, home: string): string =>
  addressText({ address: street, city, region, postcode, country }, home);

/** One sale of a file, checked. */
import type { Reckoned } from '../selling/reckon.ts';

/** A buyer of the books, or one to be made. */
export interface NamedBuyer {
  readonly id: string | undefined;
  readonly name: string;
  readonly address: string;
  readonly country: string;
  readonly tax_place_id: string | null;
}

export interface SaleLine {
  readonly line: number;
  readonly on: string;
  readonly serial: string;
  readonly buildId: string;
  /** Of a second; empty of any other knife. */
  readonly flaw: string;
  readonly channelId: string;
  readonly channelName: string;
  readonly buyer: NamedBuyer;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly postagePaidMinor: number;
  readonly feeMinor: number;
  readonly abroad: boolean;
  readonly tax: Reckoned['tax'];
  readonly invoice: boolean;
  readonly paidBy: string;
}

/** Contract of "where the money went": first margins by knife and by model for any period. */
import { z } from 'zod';
import { query } from './endpoint.ts';
import * as f from './fields.ts';

export interface KnifeMargin {
  readonly saleId: string;
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly modelCode: string;
  readonly modelName: string;
  readonly on: string;
  readonly channelName: string;
  readonly buyerName: string;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
  readonly materialsMinor: number;
  readonly consumablesMinor: number;
  readonly energyMinor: number;
  readonly packagingMinor: number;
  readonly directMinor: number;
  readonly contributionMinor: number;
  readonly minutes: number;
  readonly perHourMinor: number | null;
  /** The sale was taken back; its postage and fee stay as a cost, and its price is what was kept of it. */
  readonly takenBack: boolean;
}

export interface ModelMargin {
  readonly modelCode: string;
  readonly modelName: string;
  /** Knives sold and not taken back. */
  readonly count: number;
  readonly salesMinor: number;
  readonly directMinor: number;
  readonly contributionMinor: number;
  readonly minutes: number;
  readonly perHourMinor: number | null;
}

export interface MarginPeriod {
  readonly from: string;
  readonly to: string;
  readonly currency: string;
  readonly decimals: number;
  readonly knives: readonly KnifeMargin[];
  readonly models: readonly ModelMargin[];
  readonly total: Omit<ModelMargin, 'modelCode' | 'modelName'> & { readonly taxCollectedMinor: number };
  /** Price and shipping charged, split into where they went; the parts add up to `salesMinor` plus shipping charged. */
  readonly went: readonly { readonly key: string; readonly label: string; readonly amountMinor: number }[];
  /** Kept of the deposits of orders cancelled in the period, tax taken out: income beside the knives. */
  readonly keptDepositsMinor: number;
  /** Invoiced for service in the period, credits taken off, without tax. */
  readonly serviceMinor: number;
  /** Fees of charges no sale carries: on services, and on deposits of cancelled orders. */
  readonly besideFeesMinor: number;
  readonly months: readonly {
    readonly month: string;
    readonly salesMinor: number;
    readonly contributionMinor: number;
    readonly count: number;
  }[];
}

/** Every call of the Margins area. */
export const marginEndpoints = {
  'margins.period': query(z.strictObject({ from: f.isoDate, to: f.isoDate }))<MarginPeriod>(),
} as const;

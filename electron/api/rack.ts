/** Contract of the rack in depth: where things came from and went, what stock was worth on a day, and labels to stick on it. */
import { z } from 'zod';
import type { FileOut } from './costs.ts';
import { query } from './endpoint.ts';
import * as f from './fields.ts';
import type { ItemForm, ItemKind, LotRow } from './stock.ts';

/** One link of the chain from a bar to a knife. */
export interface TraceStep {
  readonly kind: 'purchase' | 'lot' | 'making' | 'build';
  readonly id: string;
  /** Tag or serial, e.g. `L-0042`, `M-0003`, `W-017`. */
  readonly tag: string;
  readonly title: string;
  readonly on: string;
  /** How much went along this link, in words; empty where the start of the chain stands. */
  readonly amount: string;
  readonly valueMicro: number;
  /** How many links from the start: 0 is the thing asked about. */
  readonly depth: number;
  /** The step it hangs on, by its place in the list; null for the start. */
  readonly parent: number | null;
}

export interface Trace {
  /** Towards the knives: offcuts, makings, blanks, knives. In drawing order of a tree. */
  readonly forward: readonly TraceStep[];
  /** Towards the suppliers: lots, makings, purchases. */
  readonly back: readonly TraceStep[];
}

export interface StockValueRow {
  readonly itemId: string;
  readonly itemName: string;
  readonly kind: ItemKind;
  readonly form: ItemForm;
  readonly unit: string;
  readonly qty: number;
  readonly valueMicro: number;
}

export interface StockValue {
  readonly on: string;
  readonly totalMicro: number;
  readonly rows: readonly StockValueRow[];
}

/** Every call of the rack in depth. */
export const rackEndpoints = {
  /** Which knives came out of this lot, and what it came from; or the same for a knife. Exactly one is named. */
  'rack.trace': query(z.strictObject({ lotId: f.id.optional(), buildId: f.id.optional() }))<Trace>(),
  /** What lay on the rack at the end of a day, from the ledger. */
  'rack.valueOn': query(z.strictObject({ on: f.isoDate }))<StockValue>(),
  /** Value of the stock at the end of each month in a span, for a chart. */
  'rack.valueMonths': query(z.strictObject({ from: f.isoDate, to: f.isoDate }))<
    readonly { readonly on: string; readonly valueMicro: number }[]
  >(),
  /** Labels with tag, what it is, heat number and a QR code of the tag. */
  'rack.labels': query(
    z.strictObject({
      lotIds: z.array(f.id).min(1, 'Choose what to print labels for.').max(500),
      sheet: z.enum(['roll62x29', 'a4of24', 'letterOf30']),
      /** Labels already used on the first sheet. */
      skip: z.int().min(0).max(29).default(0),
    }),
  )<FileOut>(),
  /** Lots with something left whose papers matter: a listed species or an origin somebody may ask for. */
  'rack.papers': query(z.strictObject({}))<readonly LotRow[]>(),
} as const;

/** Contract of the buying list: what planned knives and open work need, less what is on the rack or on its way. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { ItemForm, ItemKind } from './stock.ts';

export interface BuyingRow {
  readonly itemId: string;
  readonly itemName: string;
  readonly kind: ItemKind;
  readonly form: ItemForm;
  readonly unit: string;
  readonly pieceWord: string;
  readonly neededQty: number;
  readonly onRackQty: number;
  readonly onOrderQty: number;
  /** What is short, after keeping the low level. */
  readonly shortQty: number;
  /** Why: knives by serial with how much each needs, and the low level. */
  readonly for: readonly {
    readonly buildId: string;
    readonly serial: string;
    readonly qty: number;
    readonly wantedOn: string;
  }[];
  readonly lowLevel: number;
  /** As it was bought last: whole bars, boxes. */
  readonly pieces: number;
  readonly qtyEach: number;
  /** For all pieces, at the last price; null when never bought. */
  readonly priceMicro: number | null;
  readonly wantedOn: string | null;
  /** Wanted day less the supplier's lead time; null without a day. */
  readonly orderBy: string | null;
  readonly late: boolean;
}

export interface BuyingGroup {
  readonly supplierId: string | null;
  readonly supplierName: string;
  readonly leadDays: number;
  readonly rows: readonly BuyingRow[];
  readonly totalMicro: number;
}

export interface SupplyOrder {
  readonly id: string;
  /** e.g. `B-0007`. */
  readonly tag: string;
  readonly supplierId: string;
  readonly supplierName: string;
  readonly on: string;
  readonly dueOn: string | null;
  readonly state: 'open' | 'received' | 'dropped';
  readonly purchaseId: string | null;
  readonly note: string;
  readonly lines: readonly {
    readonly id: string;
    readonly itemId: string;
    readonly itemName: string;
    readonly form: ItemForm;
    readonly unit: string;
    readonly pieceWord: string;
    readonly pieces: number;
    readonly qtyEach: number;
    readonly priceMicro: number;
  }[];
  readonly totalMicro: number;
}

const line = z.strictObject({
  itemId: f.id,
  pieces: z.int('Write how many.').min(1, 'At least one.').max(10_000),
  qtyEach: f.quantity,
  /** For the whole line. */
  priceMicro: f.microPositive,
});

/** Every call of the buying list. */
export const buyingEndpoints = {
  'buying.list': query(
    z.strictObject({
      /** Only knives planned to start up to this day; leave out for all. */
      until: f.isoDate.optional(),
    }),
  )<readonly BuyingGroup[]>(),
  'buying.orders': query(
    z.strictObject({ states: z.array(z.enum(['open', 'received', 'dropped'])).default(['open']) }),
  )<readonly SupplyOrder[]>(),
  'buying.order': command(
    z.strictObject({
      supplierId: f.id,
      on: f.isoDate,
      dueOn: f.isoDate.nullable().default(null),
      note: f.longText.default(''),
      lines: z.array(line).min(1, 'Choose what to order.').max(200),
    }),
  )<SupplyOrder>(),
  'buying.drop': command(z.strictObject({ orderId: f.id, reason: f.requiredText }))<SupplyOrder>(),
  /** It came: becomes a purchase, as it really came. */
  'buying.receive': command(
    z.strictObject({
      orderId: f.id,
      on: f.isoDate,
      reference: f.shortText.default(''),
      freightMicro: f.microPositive.default(0),
      freightRule: z.enum(['spread', 'overhead']).default('spread'),
      /** What did not come stays open as an order of its own. */
      keepRest: z.boolean().default(false),
      lines: z
        .array(line.extend({ heatNumber: f.shortText.default(''), place: f.shortText.default('') }))
        .min(1, 'Write what came, or drop the order.')
        .max(200),
    }),
  )<{ readonly purchaseId: string; readonly lotIds: readonly string[] }>(),
} as const;

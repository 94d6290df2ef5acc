/** What changed in an order, written down for good. */
import type { OrderState } from '../../api/orders.ts';
import { insertChange } from '../../storage/queries/orders.ts';
import type { CommandContext } from '../context.ts';

export interface OrderChange {
  readonly what: string;
  readonly before: string;
  readonly after: string;
}

/** States in a maker's words. */
export const stateNames: Readonly<Record<OrderState, string>> = {
  asked: 'asked for',
  offered: 'offered',
  agreed: 'agreed',
  delivered: 'delivered',
  cancelled: 'cancelled',
  closed: 'came to nothing',
};

/** Writes one change down. */
export function note(
  ctx: CommandContext,
  orderId: string,
  change: OrderChange & { readonly on: string; readonly reason?: string },
): void {
  insertChange(ctx.db, {
    id: ctx.newId(),
    order_id: orderId,
    on_date: change.on,
    what: change.what,
    before: change.before,
    after: change.after,
    reason: change.reason ?? '',
  });
}

/** Writes down that an order moved on. */
export const noteState = (
  ctx: CommandContext,
  order: { readonly id: string; readonly state: string },
  to: OrderState,
  on: string,
  reason = '',
): void =>
  note(ctx, order.id, {
    what: 'Standing',
    before: stateNames[order.state as OrderState],
    after: stateNames[to],
    on,
    reason,
  });

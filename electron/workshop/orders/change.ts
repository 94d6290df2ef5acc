/** Offering, and changing what was offered or agreed. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { OrderDetail } from '../../api/orders.ts';
import { orderTagOf, updateOrder } from '../../storage/queries/orders.ts';
import type { CommandContext } from '../context.ts';
import { orderDetail } from './detail.ts';
import { noteState } from './history.ts';
import { isOpen, needOrder } from './rows.ts';
import { demandSpec, writeSpec } from './spec.ts';
import { demandAnswerDay, demandDay, demandWaiting } from './waiting.ts';

/** Names price and terms to the buyer. An offer can be made anew as often as needed. */
export function offer(ctx: CommandContext, input: Parsed<'orders.offer'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  demandWaiting(order);
  demandDay(ctx, order, input.on);
  demandAnswerDay(input.on, input.answerBy);
  if (input.priceMinor === null)
    throw invalid('An offer names a price. Write what the knife costs.', 'priceMinor');
  demandSpec(ctx.db, order, input);
  writeSpec(ctx, order, input, { on: input.on, reason: '' });
  updateOrder(ctx.db, order.id, {
    state: 'offered',
    offered_on: input.on,
    answer_by: input.answerBy,
    last_contact_on: input.on,
  });
  noteState(ctx, order, 'offered', input.on);
  return orderDetail(ctx.db, order.id, ctx.clock.today());
}

/** Changes an order that still runs. What is agreed changes with a reason only. */
export function change(ctx: CommandContext, input: Parsed<'orders.change'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  if (!isOpen(order)) throw refused(`${orderTagOf(order.number)} has ended; nothing in it changes any more.`);
  demandDay(ctx, order, input.on);
  if (order.state === 'agreed' && input.reason === '')
    throw invalid('This was agreed with the buyer. Say why it changes.', 'reason');
  demandSpec(ctx.db, order, input);
  writeSpec(ctx, order, input, { on: input.on, reason: input.reason });
  return orderDetail(ctx.db, order.id, ctx.clock.today());
}

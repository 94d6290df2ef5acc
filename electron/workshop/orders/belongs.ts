/** Whose knife it is before it is sold. */
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderOfBuild, orderTagOf } from '../../storage/queries/orders.ts';

const ended: ReadonlySet<string> = new Set(['delivered', 'cancelled', 'closed']);

/**
 * Stops a plain sale of a knife that is made for an order: it is sold by delivering the order, so that its deposit counts.
 * @throws FaultError of the field `buildId`
 */
export function demandNotOrdered(db: ReadDb, buildId: string, buyerId: string): void {
  const order = orderOfBuild(db, buildId);
  if (order?.until_on !== null || ended.has(order.state)) return;
  const tag = orderTagOf(order.number);
  throw refused(
    order.buyer_id === buyerId
      ? `This knife is made to order (${tag}) for ${order.buyer_name}. Deliver it from the order book, so that the deposit counts.`
      : `This knife is made to order (${tag}) for ${order.buyer_name}. Take it off that order first, or choose another knife.`,
    'buildId',
  );
}

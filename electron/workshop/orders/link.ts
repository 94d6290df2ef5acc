/** Which knife is made for an order; after a scrap the remake takes over. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { OrderDetail } from '../../api/orders.ts';
import {
  endLink,
  insertLink,
  openClaimOn,
  orderKnifeRows,
  orderOfBuild,
  type OrderRecord,
  orderTagOf,
} from '../../storage/queries/orders.ts';
import { releaseOfBuild, releaseTagOf } from '../../storage/queries/releases.ts';
import type { CommandContext } from '../context.ts';
import type { KnifeForSale } from '../../storage/queries/selling.ts';
import { needKnife } from '../selling/sale.ts';
import { orderDetail } from './detail.ts';
import { note } from './history.ts';
import { demandAfterLink } from './link-day.ts';
import { isOpen, needOrder } from './rows.ts';
import { demandDay } from './waiting.ts';

/** @throws FaultError of the field `buildId` when the knife cannot serve the order */
function demandFree(ctx: CommandContext, order: OrderRecord, knife: KnifeForSale): void {
  if (knife.state === 'sold' || knife.state === 'scrapped' || knife.state === 'kept')
    throw refused(
      `${knife.serial} was ${knife.state}; it cannot be made for an order. Choose another knife.`,
      'buildId',
    );
  const other = orderOfBuild(ctx.db, knife.id);
  if (other?.until_on === null && other.id !== order.id)
    throw refused(
      `${knife.serial} is made for ${other.buyer_name} (${orderTagOf(other.number)}). Choose another knife, or take it off that order first.`,
      'buildId',
    );
  const release = releaseOfBuild(ctx.db, knife.id);
  if (release !== undefined)
    throw refused(
      `${knife.serial} is shown in ${releaseTagOf(release.number)}. Choose another knife, or withdraw it in First look first.`,
      'buildId',
    );
  const claim = openClaimOn(ctx.db, knife.id, ctx.clock.now());
  if (claim !== undefined && claim.buyer_id !== order.buyer_id)
    throw refused(
      `${knife.serial} is kept for ${claim.buyer_name} for now. Choose another knife, or free it in First look first.`,
      'buildId',
    );
}

function demandRunning(order: OrderRecord): void {
  if (!isOpen(order))
    throw refused(`${orderTagOf(order.number)} has ended. A knife is made for an order that still runs.`);
}

/** Links a knife; the one before gives way, with the reason. */
export function link(ctx: CommandContext, input: Parsed<'orders.link'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  demandRunning(order);
  demandDay(ctx, order, input.on);
  const knife = needKnife(ctx.db, input.buildId);
  const before = orderKnifeRows(ctx.db, order.id).find((row) => row.until_on === null);
  if (before?.build_id === knife.id)
    throw refused(`${knife.serial} is made for this order already.`, 'buildId');
  demandFree(ctx, order, knife);
  demandAfterLink(ctx.db, order.id, input.on);
  if (before !== undefined && input.reason === '')
    throw invalid(`${before.serial} was made for it so far. Say why another knife takes over.`, 'reason');
  endLink(ctx.db, order.id, input.on, input.reason);
  insertLink(ctx.db, {
    id: ctx.newId(),
    order_id: order.id,
    build_id: knife.id,
    from_on: input.on,
    until_on: null,
    reason: '',
  });
  note(ctx, order.id, {
    what: 'Knife',
    before: before?.serial ?? '',
    after: knife.serial,
    on: input.on,
    reason: input.reason,
  });
  return orderDetail(ctx.db, order.id, ctx.clock.today());
}

/** Frees the knife of an order. */
export function unlink(ctx: CommandContext, input: Parsed<'orders.unlink'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  demandRunning(order);
  demandDay(ctx, order, input.on);
  const before = orderKnifeRows(ctx.db, order.id).find((row) => row.until_on === null);
  if (before === undefined) throw refused('No knife is made for this order.');
  demandAfterLink(ctx.db, order.id, input.on);
  endLink(ctx.db, order.id, input.on, input.reason);
  note(ctx, order.id, {
    what: 'Knife',
    before: before.serial,
    after: '',
    on: input.on,
    reason: input.reason,
  });
  return orderDetail(ctx.db, order.id, ctx.clock.today());
}

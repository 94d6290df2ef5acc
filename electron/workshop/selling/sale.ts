/** Selling a finished knife. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { SaleFigures } from '../../api/selling.ts';
import { contributionOf, perHour } from '../../domain/earnings.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type KnifeForSale, knivesForSale } from '../../storage/queries/selling.ts';
import type { SalesTable } from '../../storage/schema-selling.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';
import { demandNotOrdered } from '../orders/belongs.ts';
import { needCustomer } from './buyers.ts';
import { reckon } from './reckon.ts';

/** @throws FaultError when the knife is not in the books */
export function needKnife(db: ReadDb, id: string): KnifeForSale {
  const knife = knivesForSale(db, [id])[0];
  if (!knife) throw missing('This knife is not in the books. Choose another.');
  return knife;
}

/** What a sale would bring, before it is booked. */
export function saleFigures(ctx: QueryContext, input: Parsed<'selling.figures'>): SaleFigures {
  const { currency, decimals } = houseOf(ctx.db);
  const knife = needKnife(ctx.db, input.buildId);
  const { tax, net, feeMinor, feeHow } = reckon(ctx.db, input, currency);
  const direct = directCosts(ctx.db, [knife.id], decimals).get(knife.id);
  const directMinor = direct?.directMinor ?? 0;
  const contributionMinor = contributionOf({
    priceMinor: net.priceMinor,
    shippingMinor: net.shippingMinor,
    postageMinor: input.postagePaidMinor,
    feeMinor,
    directMinor,
  });
  return {
    priceMinor: net.priceMinor,
    shippingMinor: net.shippingMinor,
    taxMinor: tax.tax_minor,
    taxLabel: tax.tax_label,
    taxRatePpm: tax.tax_rate_ppm,
    totalMinor: net.totalMinor,
    feeMinor,
    feeHow,
    packagingMinor: direct?.packagingMinor ?? 0,
    directMinor,
    contributionMinor,
    minutes: knife.minutes,
    contributionPerHourMinor: perHour(contributionMinor, knife.minutes),
  };
}

type Dated = Pick<KnifeForSale, 'serial' | 'finished_on' | 'came_back_on'>;

function tooEarly(
  { serial, finished_on: finished, came_back_on: back }: Dated,
  on: string,
): string | undefined {
  if (finished !== null && on < finished)
    return `${serial} was finished on ${finished} and cannot be sold before. Change the date of the sale.`;
  if (back !== null && on < back)
    return `${serial} came back on ${back} and cannot be sold again before. Change the date of the sale.`;
  return undefined;
}

/** What stands in the way of selling a knife; undefined when nothing does. */
export function notForSale(
  knife: Pick<KnifeForSale, 'serial' | 'state' | 'finished_on' | 'came_back_on'>,
  on: string,
): string | undefined {
  switch (knife.state) {
    case 'planned':
    case 'inWork':
      return `${knife.serial} is not finished yet. Finish it first, then sell it.`;
    case 'sold':
      return `${knife.serial} is sold already. Credit that sale first if the knife came back.`;
    case 'scrapped':
    case 'kept':
      return `${knife.serial} was ${knife.state}. Take it back to the bench and finish it first, then sell it.`;
    default:
      return tooEarly(knife, on);
  }
}

/** No paper of the workshop carries a day that is still to come. */
export function notInFuture(ctx: Pick<QueryContext, 'clock'>, on: string, field: string): void {
  const today = ctx.clock.today();
  if (on > today)
    throw invalid(`${on} is still to come (today is ${today}). Write the day it took place.`, field);
}

/**
 * Checks a sale and makes its row; writes nothing.
 * @throws FaultError with the field that is wrong
 */
export function draftSale(ctx: CommandContext, input: Parsed<'selling.sell'>): SalesTable {
  const { currency } = houseOf(ctx.db);
  notInFuture(ctx, input.on, 'on');
  const knife = needKnife(ctx.db, input.buildId);
  const obstacle = notForSale(knife, input.on);
  if (obstacle !== undefined) throw refused(obstacle, 'buildId');
  const buyer = needCustomer(ctx.db, input.buyerId);
  demandNotOrdered(ctx.db, input.buildId, buyer.id);
  if (input.paidBy !== '' && !input.invoice) {
    throw invalid(
      'A payment is booked on an invoice. Issue the invoice too, or leave the payment out.',
      'paidBy',
    );
  }
  const { tax, net, feeMinor } = reckon(ctx.db, input, currency);
  if (feeMinor > net.totalMinor) {
    throw invalid(
      `The fee is more than the whole sale of ${formatMinor(net.totalMinor, currency)}. Check both.`,
      'feeMinor',
    );
  }
  return {
    id: ctx.newId(),
    build_id: input.buildId,
    buyer_id: buyer.id,
    channel_id: input.channelId,
    on_date: input.on,
    price_minor: input.priceMinor,
    shipping_minor: input.shippingMinor,
    ...tax,
    abroad: input.abroad ? 1 : 0,
    fee_minor: feeMinor,
    postage_paid_minor: input.postagePaidMinor,
    taken_back_on: null,
    order_id: null,
    release_id: null,
    deposit_fee_minor: 0,
    flaw: knife.flaw,
    address_id: input.addressId,
    kept_minor: 0,
  };
}

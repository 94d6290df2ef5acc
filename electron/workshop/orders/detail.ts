/** One order with all that belongs to it. */
import type { BuildState } from '../../api/builds.ts';
import type { OrderDetail } from '../../api/orders.ts';
import { partDeposit } from '../../domain/deposits.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  orderChangeRows,
  orderKnifeRows,
  orderOptionRows,
  orderPaperRows,
  type OrderRecord,
} from '../../storage/queries/orders.ts';
import { countedDeposits, moneyOf, openOfPaper, toOrderPaper } from './money.ts';
import { nextStep } from './next.ts';
import { agreedTerms } from './policies.ts';
import { needOrder, toOrderRow } from './rows.ts';

/** Whether steel was cut for it by a day: a knife linked to it was begun. */
const workBegun = (db: ReadDb, orderId: string, on: string): boolean =>
  orderKnifeRows(db, orderId).some((knife) => knife.started_on !== null && knife.started_on <= on);

/** What cancelling on a day would keep and give back. */
export function cancelling(
  db: ReadDb,
  order: OrderRecord,
  on: string,
): NonNullable<OrderDetail['cancelling']> {
  const terms = agreedTerms(order.terms);
  const paidMinor = Math.max(0, order.paid_minor);
  if (terms === undefined)
    return { paidMinor, keptMinor: 0, refundMinor: paidMinor, because: 'No deposit was agreed.' };
  // Money beyond what was asked is no deposit: it goes back whatever the terms.
  const counted = sumOf(countedDeposits(orderPaperRows(db, order.id)), (deposit) => deposit.paidMinor);
  const { keptMinor, because } = partDeposit(terms, counted, workBegun(db, order.id, on));
  return { paidMinor, keptMinor, refundMinor: paidMinor - keptMinor, because };
}

/** @throws FaultError when the order is not in the books */
export function orderDetail(db: ReadDb, id: string, today: string): OrderDetail {
  const order = needOrder(db, id);
  const row = toOrderRow(order, today);
  const papers = orderPaperRows(db, id);
  const back = sumOf(papers, (paper) => Math.min(0, openOfPaper(paper)));
  return {
    ...row,
    priceMinor: order.price_minor,
    specialMinor: order.special_minor,
    shippingMinor: order.shipping_minor,
    options: orderOptionRows(db, id).map((option) => ({
      optionId: option.option_id,
      name: option.name,
      priceMinor: option.price_minor,
    })),
    channelId: order.channel_id,
    taxPlaceId: order.tax_place_id,
    abroad: order.abroad === 1,
    addressId: order.address_id,
    offeredOn: order.offered_on,
    note: order.note,
    endReason: order.end_reason,
    terms: agreedTerms(order.terms) ?? null,
    money: moneyOf(db, order, papers),
    papers: papers.map(toOrderPaper),
    keptMinor: order.kept_now,
    keptTaxMinor: order.kept_tax_now,
    giveBackMinor: back === 0 ? 0 : -back,
    knives: orderKnifeRows(db, id).map((knife) => ({
      id: knife.build_id,
      serial: knife.serial,
      state: knife.state as BuildState,
      from: knife.from_on,
      until: knife.until_on,
      reason: knife.reason,
    })),
    changes: orderChangeRows(db, id).map((change) => ({
      id: change.id,
      on: change.on_date,
      what: change.what,
      before: change.before,
      after: change.after,
      reason: change.reason,
    })),
    saleId: order.sale_id,
    next: nextStep(row, papers),
    cancelling: order.state === 'agreed' ? cancelling(db, order, today) : null,
  };
}

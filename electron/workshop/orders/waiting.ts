/** Wishes and offers: the waiting list, who was spoken to, what came to nothing. */
import { invalid, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { OrderDetail } from '../../api/orders.ts';
import { modelRow } from '../../storage/queries/models.ts';
import {
  endLink,
  insertOrder,
  neighbourOf,
  nextOrderNumber,
  orderPaperRows,
  type OrderRecord,
  orderTagOf,
  placeEnds,
  updateOrder,
} from '../../storage/queries/orders.ts';
import type { CommandContext } from '../context.ts';
import { needCustomer } from '../selling/buyers.ts';
import { notInFuture } from '../selling/sale.ts';
import { needWorkshop } from '../workshop/need.ts';
import { orderDetail } from './detail.ts';
import { note, noteState, stateNames } from './history.ts';
import { demandAfterLink } from './link-day.ts';
import { isOpen, needOrder } from './rows.ts';

const detail = (ctx: CommandContext, id: string): OrderDetail => orderDetail(ctx.db, id, ctx.clock.today());

/** @throws FaultError when the day is still to come or before the wish itself */
export function demandDay(ctx: CommandContext, order: OrderRecord, on: string): void {
  notInFuture(ctx, on, 'on');
  if (on < order.asked_on)
    throw invalid(`It was asked for on ${order.asked_on}, not before. Change the date.`, 'on');
}

const waits = (order: OrderRecord): boolean => order.state === 'asked' || order.state === 'offered';

/** @throws FaultError when the order is beyond wishing */
export function demandWaiting(order: OrderRecord): void {
  if (waits(order)) return;
  throw refused(
    `${orderTagOf(order.number)} is ${stateNames[order.state as OrderDetail['state']]} already; only a wish or an offer can be changed so.`,
  );
}

/** @throws FaultError when the day to answer by lies before the day it was named */
export function demandAnswerDay(on: string, answerBy: string | null): void {
  if (answerBy !== null && answerBy < on)
    throw invalid('The answer cannot be due before the day you asked. Change the date.', 'answerBy');
}

/** A wish without money: it goes to the end of the waiting list. */
export function ask(ctx: CommandContext, input: Parsed<'orders.ask'>): OrderDetail {
  const home = needWorkshop(ctx.db);
  notInFuture(ctx, input.on, 'on');
  const buyer = needCustomer(ctx.db, input.buyerId);
  if (input.modelId !== null && modelRow(ctx.db, input.modelId) === undefined)
    throw invalid('This model is not in the books. Choose another.', 'modelId');
  if (input.modelId === null && input.wish === '')
    throw invalid('Say what is wanted: choose a model, or describe the knife.', 'wish');
  demandAnswerDay(input.on, input.answerBy);
  const id = ctx.newId();
  insertOrder(ctx.db, {
    id,
    number: nextOrderNumber(ctx.db),
    buyer_id: buyer.id,
    model_id: input.modelId,
    state: 'asked',
    asked_on: input.on,
    place: placeEnds(ctx.db).last + 1,
    wish: input.wish,
    tax_place_id: buyer.tax_place_id ?? home.homeTaxPlaceId,
    abroad: buyer.country !== '' && buyer.country !== home.country ? 1 : 0,
    answer_by: input.answerBy,
    last_contact_on: input.on,
    note: '',
  });
  note(ctx, id, { what: 'Standing', before: '', after: stateNames.asked, on: input.on });
  return detail(ctx, id);
}

/** Moves a wish on the waiting list: one place, or to an end of it. */
export function move(ctx: CommandContext, input: Parsed<'orders.move'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  demandWaiting(order);
  const { first, last } = placeEnds(ctx.db);
  const place = order.place ?? last + 1;
  if (input.to === 'top' || input.to === 'bottom') {
    if (place !== (input.to === 'top' ? first : last))
      updateOrder(ctx.db, order.id, { place: input.to === 'top' ? first - 1 : last + 1 });
    return detail(ctx, order.id);
  }
  const other = neighbourOf(ctx.db, place, input.to);
  if (other?.place != null) {
    updateOrder(ctx.db, other.id, { place });
    updateOrder(ctx.db, order.id, { place: other.place });
  }
  return detail(ctx, order.id);
}

/** Notes that buyer and maker spoke, and until when an answer is due. */
export function contacted(ctx: CommandContext, input: Parsed<'orders.contacted'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  if (!isOpen(order)) throw refused(`${orderTagOf(order.number)} has ended. Write a new wish instead.`);
  demandDay(ctx, order, input.on);
  demandAnswerDay(input.on, input.answerBy);
  const spoke = order.last_contact_on ?? '';
  updateOrder(ctx.db, order.id, {
    last_contact_on: spoke > input.on ? spoke : input.on,
    ...(waits(order) ? { answer_by: input.answerBy } : {}),
  });
  note(ctx, order.id, { what: 'Spoke', before: '', after: input.note, on: input.on });
  return detail(ctx, order.id);
}

/** Ends a wish or an offer that came to nothing. A knife that was begun for it is free. */
export function close(ctx: CommandContext, input: Parsed<'orders.close'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  if (order.state === 'agreed')
    throw refused(
      `${orderTagOf(order.number)} is agreed. Cancel it instead: its deposit is then parted by the terms agreed.`,
    );
  demandWaiting(order);
  demandDay(ctx, order, input.on);
  demandAfterLink(ctx.db, order.id, input.on);
  updateOrder(ctx.db, order.id, {
    state: 'closed',
    place: null,
    ended_on: input.on,
    end_reason: input.reason,
  });
  endLink(ctx.db, order.id, input.on, input.reason);
  noteState(ctx, order, 'closed', input.on, input.reason);
  return detail(ctx, order.id);
}

/** A closed wish waits again where the list ends; an agreed order without money on it is an offer again. */
export function stepBack(ctx: CommandContext, input: Parsed<'orders.stepBack'>): OrderDetail {
  const order = needOrder(ctx.db, input.id);
  const today = ctx.clock.today();
  const place = placeEnds(ctx.db).last + 1;
  if (order.state === 'closed') {
    const to = order.offered_on === null ? 'asked' : 'offered';
    updateOrder(ctx.db, order.id, { state: to, place, ended_on: null, end_reason: '' });
    noteState(ctx, order, to, today, input.reason);
    return detail(ctx, order.id);
  }
  if (order.state !== 'agreed')
    throw refused(
      `${orderTagOf(order.number)} is ${stateNames[order.state as OrderDetail['state']]}; there is no step to take back.`,
    );
  if (orderPaperRows(ctx.db, order.id).length > 0)
    throw refused('An invoice was issued for it. Cancel the order instead, so that the papers stay whole.');
  const to = order.offered_on === null ? 'asked' : 'offered';
  updateOrder(ctx.db, order.id, {
    state: to,
    place,
    agreed_on: null,
    policy_id: null,
    terms: '',
    deposit_minor: 0,
  });
  noteState(ctx, order, to, today, input.reason);
  return detail(ctx, order.id);
}

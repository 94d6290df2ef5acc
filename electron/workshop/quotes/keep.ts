/** Keeping a quote, making an offer of it, and laying it aside. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { QuoteDetail, QuoteReckoning } from '../../api/quotes.ts';
import { bladeText } from '../../domain/blade.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import {
  endQuote,
  insertQuote,
  nextQuoteNumber,
  quoteOptionRows,
  type QuoteRecord,
  quoteTagOf,
} from '../../storage/queries/quotes.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { offer } from '../orders/change.ts';
import { needOrder } from '../orders/rows.ts';
import { ask, demandWaiting } from '../orders/waiting.ts';
import { needCustomer } from '../selling/buyers.ts';
import { notInFuture } from '../selling/sale.ts';
import { demandPossible } from './lead.ts';
import { reckonQuote } from './reckon.ts';
import { needQuote, quoteDetail, toQuoteRow } from './rows.ts';
import { wishOf } from './wish.ts';

/** @throws FaultError for a wish of another person, or one that is past wishing */
function demandOwnWish(db: ReadDb, orderId: string | null, buyerId: string): void {
  if (orderId === null) return;
  const order = needOrder(db, orderId);
  if (order.buyer_id !== buyerId)
    throw invalid(
      `${orderTagOf(order.number)} is a wish of ${order.buyer_name}. Choose that buyer, or no wish.`,
      'buyerId',
    );
  demandWaiting(order);
}

function demandPrice(input: Parsed<'quotes.keep'>): number {
  const { priceMinor } = input;
  if (priceMinor === null || priceMinor === 0)
    throw invalid('A quote names a price. Take one of the four, or write your own.', 'priceMinor');
  const total = input.options.reduce((so, option) => so + option.priceMinor, priceMinor + input.specialMinor);
  if (total <= 0)
    throw invalid('The options take off more than the knife costs. Check price and options.', 'priceMinor');
  return priceMinor;
}

/** What the reckoning takes of a quote. */
const askedIn = (input: Parsed<'quotes.keep'>) => {
  const {
    buyerId: _buyer,
    orderId: _order,
    wish: _wish,
    on: _on,
    validUntil: _until,
    note: _note,
    ...asked
  } = input;
  return asked;
};

/** Checks a quote and reckons it, which runs the queue; writes nothing. */
export function prepareKeep(ctx: CommandContext, input: Parsed<'quotes.keep'>): Promise<QuoteReckoning> {
  const { buyerId, orderId, on, validUntil } = input;
  notInFuture(ctx, on, 'on');
  if (validUntil < on)
    throw invalid(`It is quoted on ${on}; it cannot end before. Change the date.`, 'validUntil');
  demandOwnWish(ctx.db, orderId, needCustomer(ctx.db, buyerId).id);
  demandPrice(input);
  const working = reckonQuote(ctx.db, askedIn(input), ctx.clock.today());
  demandPossible(working, input.promisedOn, on);
  return Promise.resolve(working);
}

/** Numbers a quote and keeps it with everything it stood on. */
export function keep(
  ctx: CommandContext,
  input: Parsed<'quotes.keep'>,
  working: QuoteReckoning,
): QuoteDetail {
  const { buyerId, orderId, wish: words, on, validUntil, note } = input;
  const asked = askedIn(input);
  const buyer = needCustomer(ctx.db, buyerId);
  const priceMinor = demandPrice(input);
  const id = ctx.newId();
  const { likeness } = wishOf(ctx.db, asked);
  insertQuote(
    ctx.db,
    {
      id,
      number: nextQuoteNumber(ctx.db),
      buyer_id: buyer.id,
      model_id: asked.modelId,
      order_id: orderId,
      on_date: on,
      valid_until: validUntil,
      wish: words,
      blade_nm: likeness.bladeNm,
      steel: likeness.steel,
      finish: likeness.finish,
      channel_id: working.channel.id,
      tax_place_id: working.taxPlace.id,
      abroad: asked.abroad ? 1 : 0,
      price_minor: priceMinor,
      special_minor: asked.specialMinor,
      shipping_minor: working.shippingMinor,
      promised_on: asked.promisedOn,
      note,
      asked: JSON.stringify(asked),
      working: JSON.stringify(working),
    },
    asked.options.map(({ optionId, name, priceMinor: minor }) => ({
      option_id: optionId,
      name,
      price_minor: minor,
    })),
  );
  return quoteDetail(ctx.db, id, ctx.clock.today());
}

/** @throws FaultError for a quote that has become something already */
function demandOpen(ctx: CommandContext, id: string): QuoteRecord {
  const today = ctx.clock.today();
  const record = needQuote(ctx.db, id, today);
  const tag = quoteTagOf(record.number);
  const { state, orderTag } = toQuoteRow(record, today);
  if (state === 'offered') throw refused(`${tag} is ${orderTag ?? 'an order'} in the order book already.`);
  if (state === 'closed')
    throw refused(`${tag} was laid aside on ${record.closed_on ?? ''}. Write a new quote from it.`);
  return record;
}

/** Size, steel and finish where the order book has no fields for them. */
function wishWords(db: ReadDb, record: QuoteRecord): string {
  const { model } = wishOf(db, {
    ...(JSON.parse(record.asked) as Parsed<'quotes.reckon'>),
    modelId: record.model_id,
  });
  const own = [
    record.blade_nm === null || record.blade_nm === model.blade_nm
      ? ''
      : `blade ${bladeText(record.blade_nm, houseOf(db).shop.length_habit === 'inch')}`,
    record.steel === model.steel ? '' : record.steel,
    record.finish === model.finish ? '' : record.finish,
  ].filter((part) => part !== '');
  return [record.wish, own.join(', ')].filter((part) => part !== '').join('\n');
}

/** The wish a quote answers, or a new one at the end of the waiting list. */
function wishFor(ctx: CommandContext, record: QuoteRecord, wish: string, on: string): string {
  if (record.order_id !== null) return record.order_id;
  return ask(ctx, { buyerId: record.buyer_id, modelId: record.model_id, wish, on, answerBy: null }).id;
}

/** Makes an offer of the order book from a quote that still holds. */
export function takeUp(ctx: CommandContext, { id, on }: Parsed<'quotes.offer'>) {
  const record = demandOpen(ctx, id);
  notInFuture(ctx, on, 'on');
  if (on < record.on_date)
    throw invalid(`It was quoted on ${record.on_date}, not before. Change the date.`, 'on');
  if (on > record.valid_until)
    throw refused(
      `${quoteTagOf(record.number)} held until ${record.valid_until}. Write a new quote from it, at the prices of today.`,
    );
  const wish = wishWords(ctx.db, record);
  const orderId = wishFor(ctx, record, wish, on);
  const before = needOrder(ctx.db, orderId);
  const made = offer(ctx, {
    id: orderId,
    on,
    answerBy: record.valid_until,
    modelId: record.model_id,
    wish,
    priceMinor: record.price_minor,
    specialMinor: record.special_minor,
    shippingMinor: record.shipping_minor,
    options: quoteOptionRows(ctx.db, id).map((option) => ({
      optionId: option.option_id,
      name: option.name,
      priceMinor: option.price_minor,
    })),
    channelId: record.channel_id,
    taxPlaceId: record.tax_place_id,
    abroad: record.abroad === 1,
    addressId: before.address_id,
    promisedOn: record.promised_on,
    note: before.note,
  });
  endQuote(ctx.db, id, { order_id: orderId, taken_on: on });
  return { orderId, orderTag: made.tag };
}

/** Lays a quote aside that came to nothing. */
export function close(ctx: CommandContext, { id, on, reason }: Parsed<'quotes.close'>): QuoteDetail {
  const record = demandOpen(ctx, id);
  notInFuture(ctx, on, 'on');
  if (on < record.on_date)
    throw invalid(`It was quoted on ${record.on_date}, not before. Change the date.`, 'on');
  endQuote(ctx.db, id, { closed_on: on, close_reason: reason });
  return quoteDetail(ctx.db, id, ctx.clock.today());
}

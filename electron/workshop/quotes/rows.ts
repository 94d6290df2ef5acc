/** Quotes as lists and their own page show them. */
import { missing } from '../../api/errors.ts';
import type { OrderState } from '../../api/orders.ts';
import type { QuoteAsked, QuoteDetail, QuoteReckoning, QuoteRow, QuoteState } from '../../api/quotes.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { listQuotes, quoteOptionRows, type QuoteRecord, quoteTagOf } from '../../storage/queries/quotes.ts';

function stateOf(record: QuoteRecord, today: string): QuoteState {
  if (record.taken_on !== null) return 'offered';
  if (record.closed_on !== null) return 'closed';
  return record.valid_until < today ? 'lapsed' : 'open';
}

/** @param today local day, for what has lapsed */
export const toQuoteRow = (record: QuoteRecord, today: string): QuoteRow => ({
  id: record.id,
  tag: quoteTagOf(record.number),
  state: stateOf(record, today),
  buyerId: record.buyer_id,
  buyerName: record.buyer_name,
  modelId: record.model_id,
  modelName: record.model_name,
  on: record.on_date,
  validUntil: record.valid_until,
  totalMinor: record.price_minor + record.special_minor + record.options_minor,
  promisedOn: record.promised_on,
  orderId: record.order_id,
  orderTag: record.order_number === null ? null : orderTagOf(record.order_number),
});

/** @throws FaultError when the quote is not in the books */
export function needQuote(db: ReadDb, id: string, today: string): QuoteRecord {
  const [record] = listQuotes(db, { id, today }, 1, 0);
  if (record === undefined) throw missing('This quote is not in the books. Go back to the quotes.');
  return record;
}

/** A quote with its working as it stood on its day. */
export function quoteDetail(db: ReadDb, id: string, today: string): QuoteDetail {
  const record = needQuote(db, id, today);
  return {
    ...toQuoteRow(record, today),
    wish: record.wish,
    priceMinor: record.price_minor,
    specialMinor: record.special_minor,
    shippingMinor: record.shipping_minor,
    abroad: record.abroad === 1,
    options: quoteOptionRows(db, id).map((option) => ({
      optionId: option.option_id,
      name: option.name,
      priceMinor: option.price_minor,
    })),
    note: record.note,
    takenOn: record.taken_on,
    closedOn: record.closed_on,
    closeReason: record.close_reason,
    orderState: record.order_state as OrderState | null,
    asked: JSON.parse(record.asked) as QuoteAsked,
    working: JSON.parse(record.working) as QuoteReckoning,
  };
}

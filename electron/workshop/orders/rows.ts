/** Orders as lists show them. */
import type { BuildState } from '../../api/builds.ts';
import { missing } from '../../api/errors.ts';
import type { OrderKnife, OrderRow, OrderState } from '../../api/orders.ts';
import { orderTotal } from '../../domain/deposits.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type OrderRecord, orderRecord, orderTagOf } from '../../storage/queries/orders.ts';

const waits: ReadonlySet<string> = new Set(['asked', 'offered']);
const open: ReadonlySet<string> = new Set(['asked', 'offered', 'agreed']);

/** Whether an order still runs: not delivered, not ended. */
export const isOpen = (record: { readonly state: string }): boolean => open.has(record.state);

/** Knife, options and special material together; null while nobody has set a price. */
export const totalOf = (record: OrderRecord): number | null =>
  record.price_minor === null
    ? null
    : orderTotal({
        priceMinor: record.price_minor,
        optionsMinor: record.options_minor,
        specialMinor: record.special_minor,
      });

/** The knife that is made for it, or was delivered. */
function knifeOf(record: OrderRecord): OrderKnife | null {
  const counts = record.link_until === null || record.state === 'delivered';
  if (!counts || record.build_id === null || record.serial === null || record.build_state === null)
    return null;
  return { id: record.build_id, serial: record.serial, state: record.build_state as BuildState };
}

/** @param today local day, for what is late */
export function toOrderRow(record: OrderRecord, today: string): OrderRow {
  const knife = knifeOf(record);
  const agreed = record.state === 'agreed';
  return {
    id: record.id,
    tag: orderTagOf(record.number),
    state: record.state as OrderState,
    buyerId: record.buyer_id,
    buyerName: record.buyer_name,
    modelId: record.model_id,
    modelName: record.model_name ?? '',
    wish: record.wish,
    askedOn: record.asked_on,
    place: waits.has(record.state) ? record.rank : null,
    answerBy: record.answer_by,
    agreedOn: record.agreed_on,
    promisedOn: record.promised_on,
    endedOn: record.ended_on,
    lastContactOn: record.last_contact_on,
    totalMinor: totalOf(record),
    depositMinor: record.deposit_minor,
    paidMinor: record.paid_minor,
    knife,
    late: agreed && record.promised_on !== null && record.promised_on < today,
    knifeLost: agreed && knife !== null && (knife.state === 'scrapped' || knife.state === 'kept'),
    answerOverdue: waits.has(record.state) && record.answer_by !== null && record.answer_by < today,
  };
}

/** @throws FaultError when the order is not in the books */
export function needOrder(db: ReadDb, id: string): OrderRecord {
  const record = orderRecord(db, id);
  if (record === undefined) throw missing('This order is not in the books. Go back to the order book.');
  return record;
}

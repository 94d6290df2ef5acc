/** The head of the order book: counts, whose money lies in the till, and what presses. */
import type { OrderBookHead, OrderRow } from '../../api/orders.ts';
import { addDays } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { heldRows, listOrders, orderCounts, orderTagOf, toGiveBack } from '../../storage/queries/orders.ts';
import { toOrderRow } from './rows.ts';

/** Open orders looked through for what presses; a workshop of one person never has so many. */
const LOOKED_AT = 500;
/** A promise is named so many days before it falls due. */
const PROMISE_DAYS = 21;
const ANSWER_DAYS = 7;

const within = (day: string | null, today: string, days: number): boolean =>
  day !== null && day <= addDays(today, days);

function presses(row: OrderRow, today: string): boolean {
  if (row.state === 'agreed') return row.knifeLost || within(row.promisedOn, today, PROMISE_DAYS);
  return within(row.answerBy, today, ANSWER_DAYS);
}

const dayOf = (row: OrderRow): string => row.promisedOn ?? row.answerBy ?? row.askedOn;

function pressing(db: ReadDb, today: string): readonly OrderRow[] {
  return listOrders(db, { show: 'open', today }, LOOKED_AT, 0)
    .map((record) => toOrderRow(record, today))
    .filter((row) => presses(row, today))
    .toSorted((a, b) => Number(b.knifeLost) - Number(a.knifeLost) || dayOf(a).localeCompare(dayOf(b)));
}

/** Counts for the head of the order book, and the customers' money with its working. */
export function bookHead(db: ReadDb, today: string): OrderBookHead {
  const counts = orderCounts(db, today);
  const held = heldRows(db).map((row) => ({
    id: row.id,
    tag: orderTagOf(row.number),
    buyerName: row.buyer_name,
    paidMinor: row.paid_minor,
  }));
  return {
    waiting: counts?.waiting ?? 0,
    offered: counts?.offered ?? 0,
    agreed: counts?.agreed ?? 0,
    late: counts?.late ?? 0,
    ended: counts?.ended ?? 0,
    heldMinor: sumOf(held, (row) => row.paidMinor),
    held,
    giveBackMinor: toGiveBack(db),
    keptMinor: counts?.kept ?? 0,
    attention: pressing(db, today),
  };
}

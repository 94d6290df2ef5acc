/** Keeping the days that are named for an order, to be held against the day it is delivered. */
import type { ReadDb } from '../../storage/db.ts';
import { insertPromiseNote, workDays } from '../../storage/queries/promises.ts';
import type { CommandContext } from '../context.ts';
import { promisesOf } from './list.ts';
import type { Asked } from './queue.ts';

/** Days named for an order, and when. */
export interface DaysNamed {
  readonly orderId: string;
  readonly on: string;
  readonly halfOn: string;
  readonly likelyOn: string;
}

/**
 * Runs the queue and names an open order's days; writes nothing, so that it can be done before the books are held.
 * @returns the days, or undefined where the order has none, and why no day can be named (empty when one can)
 */
export function nameDays(
  db: ReadDb,
  orderId: string,
  on: string,
  asked: Pick<Asked, 'agreeing'> = {},
): { readonly days: DaysNamed | undefined; readonly refusal: string } {
  const { rows, refusal } = promisesOf(db, asked, on);
  const row = refusal === '' ? rows.find((one) => one.orderId === orderId) : undefined;
  return { days: row && { orderId, on, halfOn: row.halfOn, likelyOn: row.likelyOn }, refusal };
}

/**
 * The days of an order that is about to be agreed. An order that is entered after later work was booked gets none: its
 * days would be named from a queue that was not there yet, and then be held against its past.
 */
export function daysOnAgreeing(
  db: ReadDb,
  order: { readonly orderId: string; readonly promisedOn: string | null },
  on: string,
): DaysNamed | undefined {
  const worked = workDays(db).last;
  if (worked !== null && worked > on) return undefined;
  return nameDays(db, order.orderId, on, { agreeing: order }).days;
}

/** Writes down what was named. */
export function keepDays(ctx: CommandContext, { orderId, on, halfOn, likelyOn }: DaysNamed): void {
  insertPromiseNote(ctx.db, {
    id: ctx.newId(),
    order_id: orderId,
    on_date: on,
    half_on: halfOn,
    likely_on: likelyOn,
  });
}

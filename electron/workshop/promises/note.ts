/** Keeping the days that are named for an order, to be held against the day it is delivered. */
import type { PromiseRow } from '../../api/promises.ts';
import { insertPromiseNote, workDays } from '../../storage/queries/promises.ts';
import type { CommandContext } from '../context.ts';
import { promisesOf } from './list.ts';

/**
 * Keeps the days an open order has on a day.
 * @returns the order's row, and why no day can be named (empty when one can)
 */
export function noteDays(
  ctx: CommandContext,
  orderId: string,
  on: string,
): { readonly row: PromiseRow | undefined; readonly refusal: string } {
  const { rows, refusal } = promisesOf(ctx.db, {}, on);
  const row = refusal === '' ? rows.find((one) => one.orderId === orderId) : undefined;
  if (row !== undefined)
    insertPromiseNote(ctx.db, {
      id: ctx.newId(),
      order_id: orderId,
      on_date: on,
      half_on: row.halfOn,
      likely_on: row.likelyOn,
    });
  return { row, refusal };
}

/**
 * Keeps the days of an order the moment it is agreed. An order that is entered after later work was booked gets none:
 * its days would be named from a queue that was not there yet, and then be held against its past.
 */
export function noteOnAgreeing(ctx: CommandContext, orderId: string, on: string): void {
  const worked = workDays(ctx.db).last;
  if (worked === null || worked <= on) noteDays(ctx, orderId, on);
}

/** Use-cases: stock that leaves without a knife, and counts. */
import { refused } from '../../api/errors.ts';
import type { Movement } from '../../api/stock.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { shareOfValue } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastMovedOn, receiptTakenBack, tagOf } from '../../storage/queries/lots.ts';
import { heldOfItemOn } from '../../storage/queries/stock-value.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandReceived, needItem, onItsDay, pickFromRack } from './draw.ts';
import { needLot, type NeededLot } from './lots.ts';
import { type NewMovement, post } from './post.ts';
import { needMovement } from './take-back.ts';
import { toMovement } from './views.ts';

function postAndRead(ctx: CommandContext, movement: Omit<NewMovement, 'id'>): Movement {
  const id = ctx.newId();
  post(ctx.db, { id, ...movement });
  return toMovement(needMovement(ctx.db, id));
}

/** Takes stock off the rack for no knife: scrapped, used privately, given as a sample, sent back. */
export const takeOut: HandlerFor<'stock.takeOut'> = {
  run(ctx, { lotId, kind, qty, reason, on }) {
    needWorkshop(ctx.db);
    const item = needItem(ctx.db, needLot(ctx.db, lotId).item_id);
    const { valueMicro } = pickFromRack(ctx, item, { lotId, qty, on });
    return postAndRead(ctx, { lotId, on, kind, qty: -qty, valueMicro: -valueMicro, reason });
  },
};

/**
 * Value of what a count found: missing stock leaves at the lot's value now, at the moving average at that of its day;
 * surplus comes in at what the lot cost, or at the average of what lay there, which a find must not change.
 */
function countedValue(ctx: CommandContext, lot: NeededLot, difference: number, on: string): number {
  const { id: lotId, item_id: itemId, costing } = lot;
  if (difference < 0) {
    const valueMicro = shareOfValue(lot.value_left_micro, -difference, lot.qty_left);
    const missing = [{ lotId, qty: -difference, valueMicro }];
    return -sumOf(onItsDay(ctx, { id: itemId, costing }, on, missing), (draw) => draw.valueMicro);
  }
  const day = costing === 'average' ? heldOfItemOn(ctx.db, itemId, on) : undefined;
  return day === undefined || day.qty <= 0 || day.valueMicro < 0
    ? mulDiv(lot.value_received_micro, difference, lot.qty_received)
    : mulDiv(day.valueMicro, difference, day.qty);
}

/** What lies there now is compared with the books as they are now: a day before later movements cannot be counted. */
function demandNothingSince(db: ReadDb, lot: NeededLot, on: string): void {
  const last = lastMovedOn(db, lot.id);
  if (last === null || last <= on) return;
  throw refused(
    `${tagOf(lot.number)} was used on ${last}, after ${on}. Count it as it lies there now, with a day from ${last} on.`,
    'on',
  );
}

/** Sets a lot to what was counted; the difference becomes a movement. Null when the books were right. */
export const count: HandlerFor<'stock.count'> = {
  run(ctx, { lotId, countedQty, reason, on }) {
    needWorkshop(ctx.db);
    demandCome(ctx.clock.today(), on);
    const lot = needLot(ctx.db, lotId);
    demandReceived(lot, on);
    demandNothingSince(ctx.db, lot, on);
    const difference = countedQty - lot.qty_left;
    if (difference === 0) return null;
    if (difference > 0 && receiptTakenBack(ctx.db, lotId)) {
      throw refused(
        `The purchase of ${tagOf(lot.number)} was taken back. Enter a new purchase instead.`,
        'countedQty',
      );
    }
    return postAndRead(ctx, {
      lotId,
      on,
      kind: 'count',
      qty: difference,
      valueMicro: countedValue(ctx, lot, difference, on),
      reason,
    });
  },
};

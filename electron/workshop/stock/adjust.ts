/** Use-cases: stock that leaves without a knife, counts, and taking a movement back. */
import { missing, refused } from '../../api/errors.ts';
import type { Movement, MovementKind } from '../../api/stock.ts';
import { mulDiv } from '../../domain/integers.ts';
import { drawLot, shareOfValue } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  lastMovedOn,
  lotWasTouched,
  type MovementRow,
  movementRow,
  receiptTakenBack,
  tagOf,
} from '../../storage/queries/lots.ts';
import { valueOrRefuse } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandReceived, toLotState } from './draw.ts';
import { needLot, type NeededLot } from './lots.ts';
import { type NewMovement, post } from './post.ts';
import { describer, toMovement } from './views.ts';

function needMovement(db: ReadDb, id: string): MovementRow {
  const row = movementRow(db, id);
  if (row === undefined) throw missing('This movement does not exist any more. Reload the list.');
  return row;
}

function postAndRead(ctx: CommandContext, movement: Omit<NewMovement, 'id'>): Movement {
  const id = ctx.newId();
  post(ctx.db, { id, ...movement });
  return toMovement(needMovement(ctx.db, id));
}

/** Takes stock off the rack for no knife: scrapped, used privately, given as a sample, sent back. */
export const takeOut: HandlerFor<'stock.takeOut'> = {
  run(ctx, { lotId, kind, qty, reason, on }) {
    needWorkshop(ctx.db);
    const lot = needLot(ctx.db, lotId);
    demandReceived(lot, on);
    const { valueMicro } = valueOrRefuse(drawLot(toLotState(lot), qty, describer(lot)), 'qty');
    return postAndRead(ctx, { lotId, on, kind, qty: -qty, valueMicro: -valueMicro, reason });
  },
};

/** Value of what a count found: missing stock leaves at the lot's value now, surplus comes in at what the lot cost. */
function countedValue(lot: NeededLot, difference: number): number {
  return difference < 0
    ? -shareOfValue(lot.value_left_micro, -difference, lot.qty_left)
    : mulDiv(lot.value_received_micro, difference, lot.qty_received);
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
      valueMicro: countedValue(lot, difference),
      reason,
    });
  },
};

function demandReversible(db: ReadDb, movement: MovementRow, lot: NeededLot): void {
  if (movement.kind === 'reversal') {
    throw refused('This movement itself takes another one back. Enter the stock again instead.');
  }
  if (movement.reversed_by_id !== null) throw refused('This movement was taken back already.');
  // Not by what is left: a count may have put back on paper what a knife has in it.
  if (movement.kind === 'receipt' && lotWasTouched(db, lot.id)) {
    throw refused(
      `Some of ${tagOf(lot.number)} was used or counted since it came in. Take those movements back first.`,
    );
  }
  const qty = lot.qty_left - movement.qty;
  const value = lot.value_left_micro - movement.value_micro;
  if (qty < 0 || value < 0 || (qty === 0 && value !== 0)) {
    throw refused(
      `Too much of ${tagOf(lot.number)} was used since. Take the later movements back first, or count the lot.`,
    );
  }
}

/** The day a correction counts on: today, but never before what it corrects. */
export const correctionDay = (today: string, corrected: string): string =>
  today > corrected ? today : corrected;

/** Takes one movement back: quantity and value return exactly as they went. */
export const reverse: HandlerFor<'stock.reverse'> = {
  run(ctx, { movementId, reason }) {
    needWorkshop(ctx.db);
    const before = needMovement(ctx.db, movementId);
    demandReversible(ctx.db, before, needLot(ctx.db, before.lot_id));
    return postAndRead(ctx, {
      lotId: before.lot_id,
      on: correctionDay(ctx.clock.today(), before.on_date),
      kind: 'reversal' satisfies MovementKind,
      // Never minus zero: the books hold whole numbers, and so does the answer.
      qty: 0 - before.qty,
      valueMicro: 0 - before.value_micro,
      use: toMovement(before).use,
      buildId: before.build_id,
      stageCode: before.stage_code,
      partLabel: before.part_label,
      reason,
      reversesId: before.id,
    });
  },
};

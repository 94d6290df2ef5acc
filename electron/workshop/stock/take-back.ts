/** Taking a movement back: quantity and value return exactly as they went. */
import { missing, refused } from '../../api/errors.ts';
import type { MovementKind } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { countedOntoKnives } from '../../storage/queries/consumables.ts';
import { stocktakeDayOf } from '../../storage/queries/stocktakes.ts';
import { lowestWorthSince } from '../../storage/queries/stock-value.ts';
import {
  averagedItemOf,
  lotWasTouched,
  lowestSince,
  makingTagOf,
  type MovementRow,
  movementRow,
  otherHalfOfSplit,
  tagOf,
} from '../../storage/queries/lots.ts';
import { demandOpenToTakeBack, needBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { correctionDay, todayOrLater } from '../days.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandNotBelowNothing } from './carried.ts';
import { needLot, type NeededLot } from './lots.ts';
import { post } from './post.ts';
import { toMovement } from './views.ts';

/** A movement. @throws FaultError `missing` for an unknown id */
export function needMovement(db: ReadDb, id: string): MovementRow {
  const row = movementRow(db, id);
  if (row === undefined) throw missing('This movement does not exist any more. Reload the list.');
  return row;
}

/** Kinds that bring a lot in: it can go again only while nothing else was done with it. */
const firstKinds: readonly string[] = ['receipt', 'made'] satisfies MovementKind[];

const bringsItIn = (movement: MovementRow): boolean =>
  firstKinds.includes(movement.kind) || (movement.kind === 'split' && movement.qty > 0);

function demandReversible(db: ReadDb, movement: MovementRow, lot: NeededLot): void {
  if (movement.kind === 'reversal') {
    throw refused('This movement itself takes another one back. Enter the stock again instead.');
  }
  if (movement.kind === 'evenOut') {
    throw refused('This entry only draws the values of the lots level. Take back what came in instead.');
  }
  if (movement.reversed_by_id !== null) throw refused('This movement was taken back already.');
  // Not by what is left: a count may have put back on paper what a knife has in it.
  if (bringsItIn(movement) && lotWasTouched(db, lot.id, movement.id)) {
    throw refused(
      `Some of ${tagOf(lot.number)} was used or counted since it came in. Take those movements back first.`,
    );
  }
  const qty = lot.qty_left - movement.qty;
  const value = lot.value_left_micro - movement.value_micro;
  // At the moving average the value comes out of all lots together; `post` looks whether they have it.
  const wrongValue = lot.costing !== 'average' && (value < 0 || (qty === 0 && value !== 0));
  if (qty < 0 || wrongValue) {
    throw refused(
      `Too much of ${tagOf(lot.number)} was used since. Take the later movements back first, or count the lot.`,
    );
  }
}

/**
 * What came in may have gone on at the moving average since, spread over draws of other lots: then no day after it would
 * be worth what it should.
 * @throws FaultError `refused` when a day since would be worth less than nothing
 */
function demandWorthSince(db: ReadDb, movement: MovementRow, on: string): void {
  if (movement.value_micro <= 0 || averagedItemOf(db, movement.lot_id) === undefined) return;
  if (lowestWorthSince(db, movement.item_id, on) >= movement.value_micro) return;
  throw refused(
    'Too much of this was used since at the moving average. Take the later movements back first, or count the lot.',
  );
}

/** Its own day, unless a day since would be left with less than nothing in the lot: a count put back what was used. */
function dayToTakeBack(ctx: CommandContext, { lot_id: lotId, on_date: booked, qty }: MovementRow): string {
  const on = correctionDay(ctx, booked);
  const fits = qty <= 0 || on > booked || lowestSince(ctx.db, lotId, booked) >= qty;
  return fits ? on : todayOrLater(ctx.clock.today(), booked);
}

/**
 * Takes one movement back, whatever it stands for; whoever calls it undoes what hangs on it.
 * @returns the id of the reversing movement
 * @throws FaultError `refused` when it was taken back already, what came in is used, or its knife has ended
 */
export function takeBackMovement(ctx: CommandContext, movementId: string, reason: string): string {
  const before = needMovement(ctx.db, movementId);
  demandReversible(ctx.db, before, needLot(ctx.db, before.lot_id));
  const { use } = toMovement(before);
  if (before.build_id !== null && use !== null) demandOpenToTakeBack(needBuild(ctx.db, before.build_id), use);
  const id = ctx.newId();
  const on = dayToTakeBack(ctx, before);
  demandWorthSince(ctx.db, before, on);
  post(ctx.db, {
    id,
    lotId: before.lot_id,
    on,
    kind: 'reversal' satisfies MovementKind,
    // Never minus zero: the books hold whole numbers, and so does the answer.
    qty: 0 - before.qty,
    valueMicro: 0 - before.value_micro,
    use,
    buildId: before.build_id,
    stageCode: before.stage_code,
    partLabel: before.part_label,
    reason,
    reversesId: before.id,
    makingId: before.making_id,
    openingId: before.opening_id,
    burnId: before.burn_id,
    bathEventId: before.bath_event_id,
    rung: toMovement(before).rung,
  });
  if (before.build_id !== null) demandNotBelowNothing(ctx.db, before.item_id, [before.build_id]);
  return id;
}

/** @throws FaultError when something else hangs on the movement and must be taken back with it */
function demandOnItsOwn(db: ReadDb, movement: MovementRow): void {
  if (movement.making_id !== null && movement.making_number !== null) {
    throw refused(`This belongs to ${makingTagOf(movement.making_number)}. Take it back there.`);
  }
  if (movement.burn_id !== null) throw refused('This belongs to a fire that was burnt. Take that back.');
  if (movement.bath_event_id !== null) throw refused('This was poured into a bath. Take it back there.');
  if (movement.opening_id !== null) {
    throw refused('This was taken into use. Take the opening back under Consumables.');
  }
  const stocktakeDay = stocktakeDayOf(db, movement.id);
  if (stocktakeDay !== undefined) {
    throw refused(
      `This was booked by the stocktake of ${stocktakeDay}, which is kept as it was finished. Count the lot again instead.`,
    );
  }
  // The knives would keep what they were charged for stock that lies there again.
  if (countedOntoKnives(db, movement.id)) {
    throw refused('This count was shared over knives. Count again instead.');
  }
}

/** Takes one movement back; an offcut goes back into the piece it was cut from. */
export const reverse: HandlerFor<'stock.reverse'> = {
  run(ctx, { movementId, reason }) {
    needWorkshop(ctx.db);
    const before = needMovement(ctx.db, movementId);
    demandOnItsOwn(ctx.db, before);
    const other = before.kind === 'split' ? otherHalfOfSplit(ctx.db, before) : undefined;
    // The offcut first, so that its value is free before it returns.
    const [first, second] = before.qty > 0 ? [movementId, other] : [other, movementId];
    const ids = [first, second].flatMap((id) => (id === undefined ? [] : [id]));
    const taken = ids.map((id) => takeBackMovement(ctx, id, reason));
    return toMovement(needMovement(ctx.db, taken[ids.indexOf(movementId)] ?? ''));
  },
};

/** A draw entered late at the moving average: it costs what the average was on its day, not what came in since. */
import { allocate, sumOf } from '../../domain/integers.ts';
import { ok, type Outcome, refuse } from '../../domain/outcome.ts';
import { type Draw, shareOfValue } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lotSums } from '../../storage/queries/lots.ts';
import { heldOfItemOn, lowestWorthSince } from '../../storage/queries/stock-value.ts';
import { valueOrRefuse } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import { makeRoomFor } from './post.ts';

/** Off the present average by no more than what whole millionths need. */
const isLevel = (draws: readonly Draw[], nowMicro: number, thenMicro: number): boolean =>
  Math.abs(thenMicro - nowMicro) <= draws.length;

/** What would be left: never below nothing, and nothing of value without a quantity. */
const leavesSound = (left: { readonly qty: number; readonly valueMicro: number }): boolean =>
  left.valueMicro >= 0 && (left.qty > 0 || left.valueMicro === 0);

/** What the draws cost by the average of their day; what they cost now where the value left does not allow that. */
function worthOf(db: ReadDb, itemId: string, on: string, draws: readonly Draw[]): number {
  const nowMicro = sumOf(draws, (draw) => draw.valueMicro);
  const day = heldOfItemOn(db, itemId, on);
  const qty = sumOf(draws, (draw) => draw.qty);
  if (day.qty < qty || day.valueMicro < 0) return nowMicro;
  const thenMicro = shareOfValue(day.valueMicro, qty, day.qty);
  const lots = lotSums(db, itemId);
  const left = {
    qty: sumOf(lots, (lot) => lot.qty_left) - qty,
    valueMicro: sumOf(lots, (lot) => lot.value_left_micro) - thenMicro,
  };
  return isLevel(draws, nowMicro, thenMicro) || !leavesSound(left) ? nowMicro : thenMicro;
}

/** Draws as they may be booked on their day. */
export interface OnItsDay {
  readonly draws: readonly Draw[];
  /** They cost something else than their part of the lots, which must be drawn level for it first (`makeRoomFor`). */
  readonly needRoom: boolean;
}

/**
 * What was picked, at the average of its day where something came in since at another price; as it was picked where the
 * value left does not allow that. Refused where neither leaves every day since with a worth of at least nothing.
 */
export function worthOnItsDay(
  db: ReadDb,
  itemId: string,
  on: string,
  draws: readonly Draw[],
): Outcome<OnItsDay> {
  const valueMicro = worthOf(db, itemId, on, draws);
  if (lowestWorthSince(db, itemId, on) < valueMicro) {
    return refuse(
      `What is left of this is worth more than all that lay there on ${on}: what was drawn since at the moving average left the difference in it. Take those draws back and enter them after this one, or write a later day.`,
    );
  }
  if (valueMicro === sumOf(draws, (draw) => draw.valueMicro)) return ok({ draws, needRoom: false });
  const shares = allocate(
    valueMicro,
    draws.map((draw) => draw.qty),
  );
  return ok({ draws: draws.map((draw, at) => ({ ...draw, valueMicro: shares[at] ?? 0 })), needRoom: true });
}

/**
 * The same for draws that are booked now: draws the lots level for them, so that the caller may post them as they are.
 * @throws FaultError `refused` where a day since would be worth less than nothing
 */
export function atItsDay(
  ctx: CommandContext,
  itemId: string,
  on: string,
  picked: readonly Draw[],
): readonly Draw[] {
  const { draws, needRoom } = valueOrRefuse(worthOnItsDay(ctx.db, itemId, on, picked), 'on');
  if (needRoom) makeRoomFor(ctx.db, itemId, draws, { key: ctx.newId(), on });
  return draws;
}

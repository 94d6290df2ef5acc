/** A draw entered late at the moving average: it costs what the average was on its day, not what came in since. */
import { allocate, sumOf } from '../../domain/integers.ts';
import { type Drawn, shareOfValue } from '../../domain/stock.ts';
import { lotSums } from '../../storage/queries/lots.ts';
import { heldOfItemOn } from '../../storage/queries/stock-value.ts';
import type { CommandContext } from '../context.ts';
import { makeRoomFor } from './post.ts';

/** Off the present average by no more than what whole millionths need. */
const isLevel = (drawn: Drawn, valueMicro: number): boolean =>
  Math.abs(valueMicro - drawn.valueMicro) <= drawn.draws.length;

/** What would be left: never below nothing, and nothing of value without a quantity. */
const leavesSound = (left: { readonly qty: number; readonly valueMicro: number }): boolean =>
  left.valueMicro >= 0 && (left.qty > 0 || left.valueMicro === 0);

/**
 * What was picked, at the average of its day where something came in since at another price; as it was picked where the
 * value left does not allow that. Draws the lots level for it, so that the caller may post the draws as they are.
 */
export function atItsDay(ctx: CommandContext, itemId: string, on: string, drawn: Drawn): Drawn {
  const day = heldOfItemOn(ctx.db, itemId, on);
  const qty = sumOf(drawn.draws, (draw) => draw.qty);
  if (day.qty < qty || day.valueMicro < 0) return drawn;
  const valueMicro = shareOfValue(day.valueMicro, qty, day.qty);
  const lots = lotSums(ctx.db, itemId);
  const left = {
    qty: sumOf(lots, (lot) => lot.qty_left) - qty,
    valueMicro: sumOf(lots, (lot) => lot.value_left_micro) - valueMicro,
  };
  if (isLevel(drawn, valueMicro) || !leavesSound(left)) return drawn;
  const shares = allocate(
    valueMicro,
    drawn.draws.map((draw) => draw.qty),
  );
  const draws = drawn.draws.map((draw, at) => ({ ...draw, valueMicro: shares[at] ?? 0 }));
  makeRoomFor(ctx.db, itemId, draws, { key: ctx.newId(), on });
  return { ...drawn, draws, valueMicro };
}

/** Takes back what stands behind a firing or an event of a bath: movements of stock and charges on knives. */
import type { Rung } from '../../api/builds.ts';
import type { Use } from '../../api/stock.ts';
import type { chargesBehind, makingChargesBehind, movementsBehind } from '../../storage/queries/fires.ts';
import { postCharge } from '../builds/charges.ts';
import { demandOpenToTakeBack, needBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { postMakingCharge } from '../makings/charges.ts';
import { demandNotBelowNothing } from '../stock/carried.ts';
import { takeBackMovement } from '../stock/take-back.ts';

interface Why {
  readonly on: string;
  readonly reason: string;
}

/** Quantity and value return to their lots exactly as they went. */
export function takeBackMovements(
  ctx: CommandContext,
  rows: ReturnType<typeof movementsBehind>,
  reason: string,
): void {
  for (const row of rows) takeBackMovement(ctx, row.id, reason);
}

/** Knives no longer pay. @throws FaultError `refused` when one of them has ended */
export function takeBackCharges(
  ctx: CommandContext,
  rows: ReturnType<typeof chargesBehind>,
  { on, reason }: Why,
): void {
  for (const row of rows) {
    const use = row.use_as as Use;
    demandOpenToTakeBack(needBuild(ctx.db, row.build_id), use);
    postCharge(ctx, {
      buildId: row.build_id,
      on,
      label: row.label,
      use,
      amountMicro: 0 - row.amount_micro,
      rung: row.rung as Rung,
      reason,
      reversesId: row.id,
    });
    if (row.item_id !== null) demandNotBelowNothing(ctx.db, row.item_id, [row.build_id]);
  }
}

/** A making no longer pays. */
export function takeBackMakingCharges(
  ctx: CommandContext,
  rows: ReturnType<typeof makingChargesBehind>,
  { on, reason }: Why,
): void {
  for (const row of rows) {
    postMakingCharge(ctx, {
      makingId: row.making_id,
      on,
      label: row.label,
      amountMicro: 0 - row.amount_micro,
      burnId: row.burn_id,
      reason,
      reversesId: row.id,
    });
  }
}

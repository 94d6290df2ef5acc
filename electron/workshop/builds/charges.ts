/** Use-cases: costs with no stock behind them: gas, current, gloves, a carrier's fee. */
import type { Rung } from '../../api/builds.ts';
import { missing, refused } from '../../api/errors.ts';
import type { Use } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type ChargeRow, chargeRow } from '../../storage/queries/builds.ts';
import type { CommandContext } from '../context.ts';
import { restateCosts } from '../costs/restate.ts';
import type { HandlerFor } from '../handlers.ts';
import { correctionDay, demandCome } from '../days.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandOpenFor, demandOpenToTakeBack, needBuild, touchBuild } from './touch.ts';
import { toCharge } from './views.ts';

/** What a charge says; the amount is negative only where it takes another one back, or a count found more than the books. */
export interface NewCharge {
  readonly buildId: string;
  readonly on: string;
  readonly label: string;
  readonly use: Use;
  readonly amountMicro: number;
  readonly rung: Rung;
  /** The model's usual cost it came from. */
  readonly flatId?: string;
  readonly reason?: string;
  readonly reversesId?: string;
  /** The firing or the event of the bath it is a share of. */
  readonly burnId?: string;
  readonly bathEventId?: string;
  /** The count of a consumable whose difference it is a share of. */
  readonly itemCountId?: string;
  /** The consumable it stands for. */
  readonly itemId?: string;
  /** How it was reckoned, for the working of the cost sheet. */
  readonly how?: string;
}

/** Writes a charge and keeps what its knife has cost. @returns its id */
export function postCharge(ctx: CommandContext, charge: NewCharge): string {
  const id = ctx.newId();
  const row = {
    id,
    build_id: charge.buildId,
    on_date: charge.on,
    label: charge.label,
    use_as: charge.use,
    amount_micro: charge.amountMicro,
    rung: charge.rung,
    flat_id: charge.flatId ?? null,
    reason: charge.reason ?? '',
    reverses_id: charge.reversesId ?? null,
    burn_id: charge.burnId ?? null,
    bath_event_id: charge.bathEventId ?? null,
    item_count_id: charge.itemCountId ?? null,
    item_id: charge.itemId ?? null,
    how: charge.how ?? '',
  };
  ctx.db.run(ctx.db.q.insertInto('charges').values(row));
  restateCosts(ctx.db, [charge.buildId]);
  return id;
}

function needCharge(db: ReadDb, id: string): ChargeRow {
  const row = chargeRow(db, id);
  if (row === undefined) throw missing('This charge does not exist any more. Reload the knife.');
  return row;
}

/** What a charge is a share of, and how that goes back as a whole; null for a charge that stands alone. */
function wholeOf(row: ChargeRow): string | null {
  if (row.bath_event_id !== null) return 'a quench: take the quench back on the bath instead.';
  if (row.burn_id !== null) return 'a firing: take the firing back instead.';
  return row.item_count_id === null ? null : 'a count: count again instead.';
}

/** Charges a cost to a knife, and starts one that was only planned. */
export const charge: HandlerFor<'builds.charge'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, input.buildId);
    demandCome(ctx.clock.today(), input.on);
    demandOpenFor(build, input.use);
    touchBuild(ctx.db, build.id, input.on);
    return toCharge(needCharge(ctx.db, postCharge(ctx, input)));
  },
};

/** Takes one charge back. */
export const reverseCharge: HandlerFor<'builds.reverseCharge'> = {
  run(ctx, { chargeId, reason }) {
    needWorkshop(ctx.db);
    const before = needCharge(ctx.db, chargeId);
    if (before.reverses_id !== null)
      throw refused('This charge itself takes another one back. Enter the cost again instead.');
    if (before.reversed_by_id !== null) throw refused('This charge was taken back already.');
    // What one knife of several no longer paid would be lost.
    const whole = wholeOf(before);
    if (whole !== null) throw refused(`This is a share of ${whole}`);
    demandOpenToTakeBack(needBuild(ctx.db, before.build_id), toCharge(before).use);
    const id = postCharge(ctx, {
      buildId: before.build_id,
      on: correctionDay(ctx, before.on_date),
      label: before.label,
      use: toCharge(before).use,
      amountMicro: 0 - before.amount_micro,
      rung: toCharge(before).rung,
      reason,
      reversesId: before.id,
    });
    return toCharge(needCharge(ctx.db, id));
  },
};

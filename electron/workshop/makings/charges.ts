/** Writing charges on a making: the only place that does. */
import type { CommandContext } from '../context.ts';

/** What a charge on a making says; the amount, in micro-currency, is negative only where it takes another one back. */
interface NewMakingCharge {
  readonly makingId: string;
  readonly on: string;
  readonly label: string;
  readonly amountMicro: number;
  /** The firing it is a share of. */
  readonly burnId?: string | null;
  readonly reason?: string;
  /** The charge it takes back. */
  readonly reversesId?: string;
}

/** Writes a charge. */
export function postMakingCharge(ctx: CommandContext, charge: NewMakingCharge): void {
  const row = {
    id: ctx.newId(),
    making_id: charge.makingId,
    on_date: charge.on,
    label: charge.label,
    amount_micro: charge.amountMicro,
    burn_id: charge.burnId ?? null,
    reason: charge.reason ?? '',
    reverses_id: charge.reversesId ?? null,
  };
  ctx.db.run(ctx.db.q.insertInto('making_charges').values(row));
}

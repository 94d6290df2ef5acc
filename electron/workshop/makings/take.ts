/** Use-cases: goods and costs that go into a making. */
import { missing, refused } from '../../api/errors.ts';
import { makingChargeRow } from '../../storage/queries/makings.ts';
import { correctionDay, demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem, pickFromRack } from '../stock/draw.ts';
import { post } from '../stock/post.ts';
import { needMovement, takeBackMovement } from '../stock/take-back.ts';
import { needWorkshop } from '../workshop/need.ts';
import { postMakingCharge } from './charges.ts';
import { makingDetail } from './detail.ts';
import { needOpenMaking, touchMaking } from './need.ts';

/** Takes goods off the rack, from a named lot or by the item's own costing rule. */
export const take: HandlerFor<'makings.take'> = {
  run(ctx, { makingId, itemId, lotId, qty, on, label }) {
    needWorkshop(ctx.db);
    const making = needOpenMaking(ctx.db, makingId);
    const item = needItem(ctx.db, itemId);
    const drawn = pickFromRack(ctx, item, { lotId, qty, on });
    for (const draw of drawn.draws) {
      post(ctx.db, {
        id: ctx.newId(),
        lotId: draw.lotId,
        on,
        kind: 'intoMaking',
        qty: -draw.qty,
        valueMicro: -draw.valueMicro,
        makingId,
        partLabel: label,
      });
    }
    touchMaking(ctx.db, making, on);
    return makingDetail(ctx.db, makingId);
  },
};

/** Puts goods back where they were, with their value. */
export const giveBack: HandlerFor<'makings.giveBack'> = {
  run(ctx, { makingId, movementId, reason }) {
    needOpenMaking(ctx.db, makingId);
    const movement = needMovement(ctx.db, movementId);
    if (movement.making_id !== makingId || movement.kind !== 'intoMaking')
      throw refused('This did not go into this making. Reload it.');
    if (movement.burn_id !== null)
      throw refused('This fuel is part of a firing. Take the firing back instead.');
    takeBackMovement(ctx, movementId, reason);
    return makingDetail(ctx.db, makingId);
  },
};

/** Charges a cost with no stock behind it: a cutting bill, its set-up fee, flux by the pinch. */
export const charge: HandlerFor<'makings.charge'> = {
  run(ctx, input) {
    const making = needOpenMaking(ctx.db, input.makingId);
    demandCome(ctx.clock.today(), input.on);
    postMakingCharge(ctx, input);
    touchMaking(ctx.db, making, input.on);
    return makingDetail(ctx.db, input.makingId);
  },
};

/** Takes one charge back. */
export const reverseCharge: HandlerFor<'makings.reverseCharge'> = {
  run(ctx, { chargeId, reason }) {
    const before = makingChargeRow(ctx.db, chargeId);
    if (before === undefined) throw missing('This charge does not exist any more. Reload the making.');
    if (before.reverses_id !== null)
      throw refused('This charge itself takes another one back. Enter the cost again instead.');
    if (before.reversed_by_id !== null) throw refused('This charge was taken back already.');
    if (before.burn_id !== null)
      throw refused('This charge is part of a firing. Take the firing back instead.');
    needOpenMaking(ctx.db, before.making_id);
    postMakingCharge(ctx, {
      makingId: before.making_id,
      on: correctionDay(ctx, before.on_date),
      label: before.label,
      amountMicro: 0 - before.amount_micro,
      reason,
      reversesId: before.id,
    });
    return makingDetail(ctx.db, before.making_id);
  },
};

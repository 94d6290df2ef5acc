/** Use-cases: firings booked so far, and one taken back. */
import type { Burn } from '../../api/fires.ts';
import { missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  burnCount,
  burnRow,
  burnRows,
  chargesBehind,
  makingChargesBehind,
  movementsBehind,
} from '../../storage/queries/fires.ts';
import type { HandlerFor } from '../handlers.ts';
import { correctionDay } from '../days.ts';
import { needWorkshop } from '../workshop/need.ts';
import { needMakingForFire } from './for-whom.ts';
import { takeBackCharges, takeBackMakingCharges, takeBackMovements } from './take-back.ts';
import { toBurns } from './views.ts';

/** A firing as the contract answers it. @throws FaultError `missing` for an unknown id */
export function burnById(db: ReadDb, id: string): Burn {
  const row = burnRow(db, id);
  const [burn] = row === undefined ? [] : toBurns(db, [row]);
  if (burn === undefined) throw missing('This firing does not exist any more. Reload the list.');
  return burn;
}

/** A page of firings, the newest first. */
export const burns: HandlerFor<'fires.burns'> = (ctx, input) => ({
  rows: toBurns(ctx.db, burnRows(ctx.db, input)),
  total: burnCount(ctx.db, input),
});

/** Takes a firing back: gas returns to its lots, knives or the making no longer pay. */
export const takeBack: HandlerFor<'fires.takeBack'> = {
  run(ctx, { burnId, reason }) {
    needWorkshop(ctx.db);
    const before = burnById(ctx.db, burnId);
    if (before.takenBack) throw refused('This firing was taken back already.');
    if (before.makingId !== null) needMakingForFire(ctx.db, before.makingId);
    const why = { on: correctionDay(ctx, before.on), reason };
    takeBackMovements(ctx, movementsBehind(ctx.db, 'm.burn_id', burnId), reason);
    takeBackCharges(ctx, chargesBehind(ctx.db, 'c.burn_id', burnId), why);
    takeBackMakingCharges(ctx, makingChargesBehind(ctx.db, burnId), why);
    ctx.db.run(ctx.db.q.updateTable('burns').set({ taken_back: 1 }).where('id', '=', burnId));
    return burnById(ctx.db, burnId);
  },
};

/** Whom a firing is booked on: the knives of a batch by their shares, or one making. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { makingForFire } from '../../storage/queries/fires.ts';
import { makingTagOf } from '../../storage/queries/lots.ts';
import { demandOpenFor, needBuild, touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import { needMaking, touchMaking } from '../makings/need.ts';
import { demandOnce } from './quench.ts';

/** What both kinds of firing say of it. */
export type ForWhom = Pick<Parsed<'fires.current'>, 'on' | 'shares' | 'makingId' | 'note'>;

/** A making that can still take cost. @throws FaultError when it is unknown or ended */
export function needMakingForFire(db: ReadDb, id: string) {
  const making = makingForFire(db, id);
  if (making === undefined) throw missing('This making does not exist any more. Reload the list.');
  if (making.state !== 'open')
    throw refused(`${makingTagOf(making.number)} is ended, and its cost is shared out already.`, 'makingId');
  return making;
}

/** Checks whom the firing is for, and begins on its day what had not begun. */
export function prepareFor(ctx: CommandContext, { on, shares, makingId }: ForWhom): void {
  demandCome(ctx.clock.today(), on);
  if (makingId !== null) {
    if (shares.length > 0) throw invalid('Choose either knives or a making, not both.', 'makingId');
    needMakingForFire(ctx.db, makingId);
    touchMaking(ctx.db, needMaking(ctx.db, makingId), on);
    return;
  }
  if (shares.length === 0) throw invalid('Choose the knives or the making this fire was for.', 'shares');
  demandOnce(
    shares.map((share) => share.buildId),
    'shares',
  );
  for (const { buildId } of shares) {
    demandOpenFor(needBuild(ctx.db, buildId), 'energy');
    touchBuild(ctx.db, buildId, on);
  }
}

/** How a figure was reckoned, with the sharing told: `4 h 12 min × 3.2 lb/h, shared over 4 knives`. */
export const sharedWords = (how: string, { shares }: Pick<ForWhom, 'shares'>): string =>
  shares.length > 1 ? `${how}, shared over ${String(shares.length)} knives` : how;

/** Keeps which knives a firing was for, and by which weights. */
export function writeShares(ctx: CommandContext, burnId: string, { shares }: Pick<ForWhom, 'shares'>): void {
  for (const { buildId, weight } of shares) {
    ctx.db.run(ctx.db.q.insertInto('burn_builds').values({ burn_id: burnId, build_id: buildId, weight }));
  }
}

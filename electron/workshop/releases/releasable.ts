/** Which knives can be released. */
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { unendedClaim } from '../../storage/queries/claims.ts';
import { openOrderOf, releaseOfBuild, releaseTagOf } from '../../storage/queries/releases.ts';
import { needBuild } from '../builds/touch.ts';

/** Why a knife cannot go into a release; null when it can. */
export function whyNot(db: ReadDb, buildId: string, releaseId: string | undefined): string | null {
  const build = needBuild(db, buildId);
  if (build.state === 'sold') return 'is sold';
  if (build.state !== 'finished') return 'is not finished';
  const order = openOrderOf(db, buildId);
  if (order) return `is promised to order ${String(order.number)}`;
  const other = releaseOfBuild(db, buildId);
  return other !== undefined && other.id !== releaseId ? `is in ${releaseTagOf(other.number)} already` : null;
}

interface Wanted {
  readonly build_id: string;
  readonly price_minor: number;
}

/**
 * A knife that can be shown with a price.
 * @returns its serial
 * @throws FaultError of the field `knives`
 */
export function demandReleasable(db: ReadDb, { build_id, price_minor }: Wanted, releaseId: string): string {
  const { serial } = needBuild(db, build_id);
  const why = whyNot(db, build_id, releaseId);
  if (why !== null) throw refused(`${serial} ${why}. Take it out of the list.`, 'knives');
  const claim = unendedClaim(db, build_id);
  if (claim?.release_id === null)
    throw refused(
      `${serial} is held for ${claim.buyer_name}. Free it first, or take it out of the list.`,
      'knives',
    );
  if (price_minor === 0) throw refused(`${serial} has no price yet. Write one.`, 'knives');
  return serial;
}

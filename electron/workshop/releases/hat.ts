/** What stands of a release by lot: names in the hat, what was drawn, and whose turn it is. */
import type { ReadDb } from '../../storage/db.ts';
import {
  type ClaimRecord,
  claimsOfRelease,
  drawRows,
  type EntryRecord,
  entryRows,
} from '../../storage/queries/claims.ts';
import {
  personRow,
  type ReleaseKnifeRecord,
  releaseKnifeRows,
  type ReleaseRecord,
} from '../../storage/queries/releases.ts';

/** One name as drawn: its place in the hat and the hash that ordered it. */
export interface Drawn {
  readonly number: number;
  readonly buyerId: string;
  readonly hash: string;
}

interface Draw {
  readonly id: string;
  readonly buildId: string;
  readonly serial: string;
  readonly at: string;
  readonly seed: string;
  readonly outcome: readonly Drawn[];
}

/** Everything that decides whose turn it is in a release. */
export interface Standing {
  readonly release: ReleaseRecord;
  readonly knives: readonly ReleaseKnifeRecord[];
  readonly entries: readonly EntryRecord[];
  readonly draws: readonly Draw[];
  readonly claims: readonly ClaimRecord[];
}

/** Names as drawn, those put together since under the entry that was kept; one person has the better place only. */
function asKept(db: ReadDb, names: readonly Drawn[]): readonly Drawn[] {
  const seen = new Set<string>();
  return names.flatMap((name) => {
    const buyerId = personRow(db, name.buyerId)?.merged_into_id ?? name.buyerId;
    if (seen.has(buyerId)) return [];
    seen.add(buyerId);
    return [{ ...name, buyerId }];
  });
}

/** Gathers a release with its knives, names, draws and claims. */
export const standingOf = (db: ReadDb, release: ReleaseRecord): Standing => ({
  release,
  knives: releaseKnifeRows(db, [release.id]),
  entries: release.rule === 'lot' ? entryRows(db, release.id) : [],
  draws:
    release.rule === 'lot'
      ? drawRows(db, release.id).map((row) => ({
          id: row.id,
          buildId: row.build_id,
          serial: row.serial,
          at: row.at,
          seed: row.seed,
          outcome: asKept(db, JSON.parse(row.outcome) as Drawn[]),
        }))
      : [],
  claims: claimsOfRelease(db, release.id),
});

/** A claim that was neither ended nor ran out by an instant. */
export const runsAt = (claim: Pick<ClaimRecord, 'ended_at' | 'until_at'>, at: string): boolean =>
  claim.ended_at === null && claim.until_at > at;

/** Whether a person has another knife of the release, bought or claimed, at an instant. */
export const hasAnother = (standing: Standing, buyerId: string, buildId: string, at: string): boolean =>
  standing.knives.some((knife) => knife.buyer_id === buyerId && knife.build_id !== buildId) ||
  standing.claims.some(
    (claim) => claim.buyer_id === buyerId && claim.build_id !== buildId && runsAt(claim, at),
  );

/** Names in the hat for a knife: those put in for it, and those put in for any. */
export const hatFor = (standing: Standing, buildId: string): readonly EntryRecord[] =>
  standing.entries.filter(
    (entry) => entry.withdrawn_at === null && (entry.build_id === null || entry.build_id === buildId),
  );

/** Names drawn for a knife that were not asked yet, in their order, without those who have another knife already. */
export function namesLeft(standing: Standing, buildId: string, at: string): readonly Drawn[] {
  const draw = standing.draws.find((each) => each.buildId === buildId);
  if (draw === undefined) return [];
  const asked = new Set(
    standing.claims
      .filter((claim) => claim.build_id === buildId && claim.kind === 'offered')
      .map((claim) => claim.buyer_id),
  );
  const last = draw.outcome.findLastIndex((name) => asked.has(name.buyerId));
  const rest = draw.outcome.slice(last + 1);
  return standing.release.one_each === 1
    ? rest.filter((name) => !hasAnother(standing, name.buyerId, buildId, at))
    : rest;
}

/** Whether a knife still goes by the draw at an instant: not drawn yet, or names are left, or an answer is waited for. */
export function goesByDraw(standing: Standing, buildId: string, at: string): boolean {
  const knife = standing.knives.find((each) => each.build_id === buildId);
  if (standing.release.rule !== 'lot' || knife?.withdrawn_on !== null || knife.sale_id !== null) return false;
  // Scrapped, kept or back at the bench meanwhile.
  if (knife.build_state !== 'finished') return false;
  if (!standing.draws.some((draw) => draw.buildId === buildId)) return hatFor(standing, buildId).length > 0;
  const waiting = standing.claims.some((claim) => claim.build_id === buildId && runsAt(claim, at));
  return waiting || namesLeft(standing, buildId, at).length > 0;
}

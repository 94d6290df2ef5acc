/** Who may have a knife of a release at a moment. */
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { levelRows, type ReleaseRecord, supportersOn } from '../../storage/queries/releases.ts';
import type { Clock } from '../context.ts';
import { goesByDraw, hasAnother, namesLeft, type Standing, standingOf } from './hat.ts';
import { instantWords, needPerson } from './need.ts';

/** By which right a knife was given: in the early window, by the draw, or as anyone's. */
export type ByRule = 'early' | 'lot' | 'public';

export interface Wish {
  readonly buildId: string;
  readonly buyerId: string;
  /** UTC instant. */
  readonly at: string;
}

interface Asking {
  readonly db: ReadDb;
  readonly clock: Clock;
}

/** Name of the early group: its lowest level. */
export function groupName(db: ReadDb, leastRank: number): string {
  if (leastRank === 0) return 'everyone in Buyers';
  const level = levelRows(db).find((each) => each.rank >= leastRank);
  return level === undefined ? 'supporters' : `${level.name} and above`;
}

/** Whether a person belongs to the early group on a day. */
const isEarly = (db: ReadDb, release: ReleaseRecord, buyerId: string, day: string): boolean =>
  release.least_rank === 0 ||
  supportersOn(db, day, buyerId).some((person) => person.rank >= release.least_rank);

/** @throws FaultError of the field `buyerId` when the person is not of the early group on the day of an instant */
export function demandEarly(
  { db, clock }: Asking,
  release: ReleaseRecord,
  buyerId: string,
  at: string,
): void {
  if (isEarly(db, release, buyerId, clock.localDay(at))) return;
  const until = instantWords(clock, release.early_until);
  const { name } = needPerson(db, buyerId);
  const then =
    release.rule === 'lot' ? 'Only the early group may put a name in.' : `Everyone may buy from ${until}.`;
  throw refused(
    `${name} does not belong to the early group (${groupName(db, release.least_rank)}). ${then}`,
    'buyerId',
  );
}

function byLot({ db, clock }: Asking, standing: Standing, wish: Wish, serial: string): ByRule {
  const { release } = standing;
  if (wish.at < release.early_until) {
    throw refused(
      `${serial} goes by lot. Put the name in the hat; the draw is after ${instantWords(clock, release.early_until)}.`,
      'buildId',
    );
  }
  if (!goesByDraw(standing, wish.buildId, wish.at)) return 'public';
  if (!standing.draws.some((draw) => draw.buildId === wish.buildId))
    throw refused(`Names are in the hat for ${serial}. Draw first.`, 'buildId');
  const next = namesLeft(standing, wish.buildId, wish.at)[0];
  const whose = next === undefined ? '' : ` The next name is ${needPerson(db, next.buyerId).name}.`;
  throw refused(`${serial} goes by the draw.${whose} Offer it there first.`, 'buyerId');
}

/**
 * The right by which a person may have a knife at an instant.
 * @throws FaultError `refused` with the rule that stands in the way
 */
export function demandMayHave(asking: Asking, release: ReleaseRecord, wish: Wish): ByRule {
  const standing = standingOf(asking.db, release);
  const knife = standing.knives.find((each) => each.build_id === wish.buildId);
  const serial = knife?.serial ?? 'This knife';
  if (wish.at < release.early_from) {
    throw refused(
      `${serial} is in a release that opens on ${instantWords(asking.clock, release.early_from)}. Nobody can have it before; withdraw it from the release if it must go now.`,
      'buildId',
    );
  }
  if (release.rule === 'lot') return byLot(asking, standing, wish, serial);
  if (wish.at >= release.early_until) return 'public';
  demandEarly(asking, release, wish.buyerId, wish.at);
  if (release.one_each === 1 && hasAnother(standing, wish.buyerId, wish.buildId, wish.at)) {
    const { name } = needPerson(asking.db, wish.buyerId);
    throw refused(
      `${name} has another knife of this release. Until ${instantWords(asking.clock, release.early_until)} it is one knife each.`,
      'buyerId',
    );
  }
  return 'early';
}

/**
 * First look: by the clock, who may buy which knife of a release, and how a release went.
 * Instants are UTC ISO text of one form, so they are compared as they stand.
 */

/** How far a release has come, by the maker's word and by the clock. */
export type ReleasePhase = 'draft' | 'set' | 'shown' | 'early' | 'draw' | 'public' | 'over' | 'dropped';

export interface Windows {
  /** What the maker said of it: 'draft', 'set', 'ended' or 'dropped'. */
  readonly state: string;
  readonly previewOn: string | null;
  readonly earlyFrom: string;
  readonly earlyUntil: string;
}

export interface Moment {
  /** UTC instant. */
  readonly now: string;
  /** The local day it falls on. */
  readonly today: string;
}

/**
 * The phase of a release at a moment.
 * @param toDraw names are in the hat, or were drawn and not all asked yet
 * @param allGone every knife is sold or withdrawn
 */
export function phaseOf(
  release: Windows,
  moment: Moment,
  { toDraw, allGone }: { readonly toDraw: boolean; readonly allGone: boolean },
): ReleasePhase {
  if (release.state === 'draft' || release.state === 'dropped') return release.state;
  if (release.state === 'ended' || allGone) return 'over';
  if (moment.now < release.earlyFrom)
    return release.previewOn !== null && moment.today >= release.previewOn ? 'shown' : 'set';
  if (moment.now < release.earlyUntil) return 'early';
  return toDraw ? 'draw' : 'public';
}

/** When a release next changes by the clock; null when it does not any more. Before the preview its day is told apart. */
export const nextInstant = (release: Windows, now: string): string | null => {
  if (release.state !== 'set') return null;
  if (now < release.earlyFrom) return release.earlyFrom;
  return now < release.earlyUntil ? release.earlyUntil : null;
};

const plain = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

/**
 * One household is one postal address, however it is written. Empty where there is no street: such a person stands alone.
 * @returns a text that is equal for equal addresses
 */
export const householdOf = (address: {
  readonly address: string;
  readonly city: string;
  readonly postcode: string;
  readonly country: string;
}): string => {
  const street = plain(address.address);
  if (street === '') return '';
  // One or all of city and postcode may stand in the lines of the street in older books.
  return [street, plain(address.city), plain(address.postcode), plain(address.country)]
    .join(' ')
    .replace(/ +/g, ' ')
    .trim();
};

/** Thirty days after the opening a release is judged, minutes. */
const JUDGED_AFTER = 30 * 24 * 60;

export interface OfferedKnife {
  readonly priceMinor: number;
  /** Null: not sold in the release. Minutes from the opening to when the buyer's word came. */
  readonly sold: { readonly minutes: number; readonly priceMinor: number; readonly early: boolean } | null;
  readonly withdrawn: boolean;
}

/** How a release went; times in minutes from its opening, null where nothing can be said. */
export interface ReleaseMeasures {
  readonly knives: number;
  readonly listMinor: number;
  readonly soldEarly: number;
  readonly soldEarlyMinor: number;
  readonly soldPublic: number;
  readonly soldPublicMinor: number;
  readonly unsold: number;
  readonly unsoldMinor: number;
  /** Parts per million of all knives, and of all money asked. */
  readonly earlyKnivesPpm: number | null;
  readonly earlyMoneyPpm: number | null;
  readonly firstMinutes: number | null;
  readonly medianMinutes: number | null;
  /** Until the last one went; null while any is left. */
  readonly sellOutMinutes: number | null;
  /** Not sold within thirty days of the opening; null before those are over. */
  readonly unsoldAfter30: number | null;
}

const middle = (sorted: readonly number[]): number | null => {
  const upper = sorted[Math.floor(sorted.length / 2)];
  if (upper === undefined) return null;
  if (sorted.length % 2 === 1) return upper;
  return Math.round(((sorted[sorted.length / 2 - 1] ?? upper) + upper) / 2);
};

const share = (part: number, whole: number): number | null =>
  whole === 0 ? null : Math.round((part * 1_000_000) / whole);

const sum = (values: readonly number[]): number => values.reduce((so, value) => so + value, 0);

/**
 * How a release went so far. Withdrawn knives count for nothing.
 * @param minutesOpen since the opening; below zero before it
 */
export function measureRelease(all: readonly OfferedKnife[], minutesOpen: number): ReleaseMeasures {
  const knives = all.filter((knife) => !knife.withdrawn);
  const sold = knives.flatMap((knife) => (knife.sold === null ? [] : [knife.sold]));
  const early = sold.filter((each) => each.early);
  const later = sold.filter((each) => !each.early);
  const left = knives.filter((knife) => knife.sold === null);
  const minutes = sold.map((each) => Math.max(0, each.minutes)).sort((a, b) => a - b);
  const listMinor = sum(knives.map((knife) => knife.priceMinor));
  const soldEarlyMinor = sum(early.map((each) => each.priceMinor));
  return {
    knives: knives.length,
    listMinor,
    soldEarly: early.length,
    soldEarlyMinor,
    soldPublic: later.length,
    soldPublicMinor: sum(later.map((each) => each.priceMinor)),
    unsold: left.length,
    unsoldMinor: sum(left.map((knife) => knife.priceMinor)),
    earlyKnivesPpm: share(early.length, knives.length),
    earlyMoneyPpm: share(soldEarlyMinor, listMinor),
    firstMinutes: minutes[0] ?? null,
    medianMinutes: middle(minutes),
    sellOutMinutes: left.length === 0 ? (minutes.at(-1) ?? null) : null,
    unsoldAfter30:
      minutesOpen < JUDGED_AFTER
        ? null
        : knives.filter((knife) => knife.sold === null || knife.sold.minutes >= JUDGED_AFTER).length,
  };
}

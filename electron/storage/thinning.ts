/** Which safety copies to keep: dense for the last days, thin for the months before. Pure. */

/** The copies kept, counted in days, weeks and months that have one (not in calendar distance). */
const keptCopies = { days: 12, weeks: 10, months: 9 } as const;

/** What thinning needs to know of a copy. */
export interface Aged {
  readonly name: string;
  /** UTC ISO instant. */
  readonly at: string;
  /** Journal position; decides which copy is newer, whatever the clock said. */
  readonly seq: number;
  /** Made before something risky: kept until the person removes it. */
  readonly pinned: boolean;
}

const DAY_MS = 86_400_000;
/** 1970-01-01 was a Thursday; ISO weeks begin on Monday. */
const THURSDAY = 3;

const dayNumber = (at: string): number => Math.floor(Date.parse(at) / DAY_MS);

const newestFirst = (a: Aged, b: Aged): number => b.seq - a.seq || (a.at < b.at ? 1 : -1);

/** The newest copy of each of the first `limit` buckets, in the order given. */
function newestPerBucket(
  copies: readonly Aged[],
  bucket: (copy: Aged) => string | number,
  limit: number,
): Set<string> {
  const chosen = new Map<string | number, string>();
  for (const copy of copies) {
    const key = bucket(copy);
    if (!chosen.has(key) && chosen.size < limit) chosen.set(key, copy.name);
  }
  return new Set(chosen.values());
}

/**
 * Names the copies to let go of. The newest is always kept, and so is every pinned one.
 * A clock that was set back only makes more buckets; it never drops the newest books.
 */
export function copiesToDrop(copies: readonly Aged[]): readonly string[] {
  const sorted = copies.filter((copy) => !copy.pinned).sort(newestFirst);
  const kept = new Set([
    ...newestPerBucket(sorted, (copy) => dayNumber(copy.at), keptCopies.days),
    ...newestPerBucket(sorted, (copy) => Math.floor((dayNumber(copy.at) + THURSDAY) / 7), keptCopies.weeks),
    ...newestPerBucket(sorted, (copy) => copy.at.slice(0, 7), keptCopies.months),
  ]);
  return sorted.filter((copy) => !kept.has(copy.name)).map((copy) => copy.name);
}

/** True when a copy is due: none yet, the last one a day old or more, or the clock was set back since. */
export function copyIsDue(now: string, last: string | undefined): boolean {
  if (last === undefined) return true;
  const age = Date.parse(now) - Date.parse(last);
  return age < 0 || age >= DAY_MS;
}

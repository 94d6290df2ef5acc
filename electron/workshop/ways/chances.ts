/** How likely each way ends well: from own endings where there are some, and never for a fault that makes a knife unsafe. */
import type { Measure } from '../../api/gates.ts';
import type { WayKind } from '../../api/ways.ts';
import { likelyShare, USUALLY_FINISHED, USUALLY_SAVED } from '../../domain/ways-on.ts';
import type { ReadDb } from '../../storage/db.ts';
import { ownEndings } from '../../storage/queries/ways.ts';

const PPM = 1_000_000;

/** A fault here makes the knife unsafe or useless; it is never sold, whatever the price. Common practice, no source. */
const functional: ReadonlySet<Measure> = new Set<Measure>(['hardness', 'cracks', 'edgeFlex', 'chop']);

export interface Doubt {
  readonly measure: Measure;
  readonly verdict: 'rework' | 'fail';
  readonly words: string;
}

export interface Chance {
  readonly chancePpm: number;
  readonly how: string;
  readonly caution: string;
}

const ppm = (share: number): number => Math.round(share * PPM);
const none = (how: string, caution = ''): Chance => ({ chancePpm: 0, how, caution });

/** True where a check failed at something that is never sold. */
const isUnsafe = (doubts: readonly Doubt[]): boolean =>
  doubts.some((doubt) => doubt.verdict === 'fail' && functional.has(doubt.measure));

const UNSAFE = 'A knife with a crack, a soft or a brittle edge is never sold, at no price (common practice).';

/** The chance of each way to end in a knife that can be sold. */
export function chancesOf(db: ReadDb, doubts: readonly Doubt[]): Readonly<Record<WayKind, Chance>> {
  const own = ownEndings(db);
  const usual = {
    chancePpm: ppm(likelyShare(own.finished, own.ended, USUALLY_FINISHED)),
    how: `${String(own.finished)} of ${String(own.ended)} own knives were finished; 19 of 20 more are supposed (common practice)`,
    caution: '',
  };
  const saved = {
    chancePpm: ppm(likelyShare(own.saved, own.doubtful, USUALLY_SAVED)),
    how: `${String(own.saved)} of ${String(own.doubtful)} own knives that once did not pass were finished; 3 of 4 more are supposed (common practice)`,
    caution: '',
  };
  const unsafe = isUnsafe(doubts);
  const planned =
    doubts.length === 0
      ? usual
      : none('it did not pass; as it is, it will not. Write another chance only if you know better');
  return {
    asPlanned: { ...planned, caution: unsafe ? UNSAFE : '' },
    rework: doubts.length === 0 ? usual : saved,
    shorten: saved,
    second: unsafe ? none('the fault is not one of looks', UNSAFE) : usual,
    scrap: none('nothing is sold'),
  };
}

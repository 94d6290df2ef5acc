/** Minutes a knife takes: the usual ones, shortened by what was learned on the ones before it. */
import { type DemoBatch, type DemoBuild, stonesFrom } from './tables/builds.ts';
import { handFinished, minutesOf } from './tables/models.ts';

/** Hundredths by the n-th knife of a family: the first takes 15 % longer than usual. */
export const learning = [115, 110, 106, 103, 101, 100, 98, 97, 96, 95, 95, 94] as const;
/** Desk work is not learned at the grinder. */
const unlearned: readonly string[] = ['DES', 'PHO', 'LST', 'PCK', 'MSG'];
/** What stones leave of the minutes paper takes, in hundredths. */
const STONE = 80;
const ALL = 100;

/** `5 × round(x / 5)` of `minutes × hundredths × hundredths` in whole numbers, a tie to the even multiple. */
const roundToFive = (minutes: number, hundredths: number, more: number): number => {
  const top = minutes * hundredths * more;
  const unit = 5 * ALL * ALL;
  const steps = Math.floor(top / unit);
  const rest = top - steps * unit;
  const up = rest * 2 > unit || (rest * 2 === unit && steps % 2 === 1);
  return (up ? steps + 1 : steps) * 5;
};

/** True where the hand finish of this batch's knives was rubbed with stones. */
const withStones = (batch: Pick<DemoBatch, 'start'>, build: DemoBuild): boolean =>
  handFinished.includes(build.variant) && batch.start >= stonesFrom;

const isDone = ({ stagesDone, without }: DemoBuild, code: string): boolean =>
  stagesDone === undefined ? !(without ?? []).includes(code) : stagesDone.includes(code);

/** Attended minutes of one knife by stage, in the order of work. */
export function minutesFor(batch: Pick<DemoBatch, 'start'>, build: DemoBuild): ReadonlyMap<string, number> {
  const factor = learning[Math.min(build.nth, learning.length) - 1] ?? ALL;
  const method = (code: string): number => (code === 'HND' && withStones(batch, build) ? STONE : ALL);
  const usual = (code: string, minutes: number): number =>
    roundToFive(minutes, unlearned.includes(code) ? ALL : factor, method(code));
  return new Map(
    minutesOf(build.variant)
      .filter(([code]) => isDone(build, code))
      .map(([code, minutes]) => [
        code,
        (build.minutes?.[code] ?? usual(code, minutes)) + (build.more?.[code] ?? 0),
      ]),
  );
}

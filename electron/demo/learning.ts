/** Minutes a knife takes: the usual ones, shortened by what was learned on the ones before it. */
import { minutesOf, type Variant } from './tables/models.ts';

/** Hundredths by the n-th knife of a family: the first takes 15 % longer than usual. */
const learning = [115, 110, 106, 103, 101, 100, 98, 97, 96, 95, 95, 94] as const;
/** Desk work is not learned at the grinder. */
const unlearned: readonly string[] = ['DES', 'PHO', 'LST', 'PCK', 'MSG'];

/** `5 × round(x / 5)` of `minutes × hundredths / 100` in whole numbers, a tie to the even multiple. */
const roundToFive = (minutes: number, hundredths: number): number => {
  const top = minutes * hundredths;
  const steps = Math.floor(top / 500);
  const rest = top - steps * 500;
  const up = rest > 250 || (rest === 250 && steps % 2 === 1);
  return (up ? steps + 1 : steps) * 5;
};

/**
 * Attended minutes of one knife by stage, in the order of work.
 * @param nth how many of its family it is, from 1
 */
export function minutesFor(variant: Variant, nth: number): ReadonlyMap<string, number> {
  const factor = learning[Math.min(nth, learning.length) - 1] ?? 100;
  return new Map(
    minutesOf(variant).map(([code, minutes]) => [
      code,
      roundToFive(minutes, unlearned.includes(code) ? 100 : factor),
    ]),
  );
}

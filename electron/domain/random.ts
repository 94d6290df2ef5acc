/** Chance that can be run again: the same seed gives the same figures on any machine (xoroshiro128+). */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A source of chance. Each call moves it on. */
export interface Chance {
  /** At least 0, below 1. */
  readonly part: () => number;
  /** A whole number from 0 to `count` − 1. @param count at least 1 */
  readonly below: (count: number) => number;
  /** A normally distributed figure around 0 with deviation 1 (polar method of Marsaglia, 1964). */
  readonly normal: () => number;
}

/** Begins a source of chance from a whole number. */
export const chanceFrom = (seed: number): Chance => {
  const source = xoroshiro128plus(seed);
  const part = (): number => uniformFloat64(source);
  const normal = (): number => {
    for (;;) {
      const x = 2 * part() - 1;
      const y = 2 * part() - 1;
      const square = x * x + y * y;
      if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
    }
  };
  return { part, below: (count) => uniformInt(source, 0, count - 1), normal };
};

/**
 * A guess of three points read as the planning rule does that weighs the likeliest four times (Malcolm, Roseboom, Clark
 * and Fazar, 1959): a beta distribution between the ends. It leans less on the ends than the triangular one, which is
 * for guesses nobody has thought about point by point.
 */
import type { ThreePoints } from './triangular.ts';

const LIKELIEST_COUNTS = 4;

/** Mean of the guess. */
export const guessMean = ({ least, likely, most }: ThreePoints): number =>
  (least + LIKELIEST_COUNTS * likely + most) / (LIKELIEST_COUNTS + 2);

/** Standard deviation of the guess by the rule: a sixth of what lies between its ends. */
export const guessSd = ({ least, most }: ThreePoints): number => (most - least) / (LIKELIEST_COUNTS + 2);

/** Parts the range is cut into to sum the density: the figures are then right to four digits. */
const CELLS = 2000;

/** Share of the distribution below the end of each cell. */
function sharesBelow({ least, likely, most }: ThreePoints): Float64Array {
  const lean = (LIKELIEST_COUNTS * (likely - least)) / (most - least);
  const below = new Float64Array(CELLS + 1);
  for (let cell = 0; cell < CELLS; cell += 1) {
    const at = (cell + 0.5) / CELLS;
    below[cell + 1] = (below[cell] ?? 0) + at ** lean * (1 - at) ** (LIKELIEST_COUNTS - lean);
  }
  const all = below[CELLS] ?? 1;
  return below.map((sum) => sum / all);
}

/** So many figures that lie like the guess, one for each equal part of it, rising. */
export function guessFigures(guess: ThreePoints, count: number): number[] {
  const width = guess.most - guess.least;
  if (width === 0) return Array.from({ length: count }, () => guess.likely);
  const below = sharesBelow(guess);
  let cell = 0;
  return Array.from({ length: count }, (_, at) => {
    const share = (at + 0.5) / count;
    while (cell < CELLS - 1 && (below[cell + 1] ?? 1) < share) cell += 1;
    const [low, high] = [below[cell] ?? 0, below[cell + 1] ?? 1];
    return guess.least + (width * (cell + (share - low) / (high - low))) / CELLS;
  });
}

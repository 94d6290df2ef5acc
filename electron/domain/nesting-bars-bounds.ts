/** What any plan with the bars from one place on must cost at least: lets the search in `nesting-bars-search.ts` stop early. */
import type { BarProblem, Score, SearchBar } from './nesting-bars-search.ts';

/** Patterns looked at for one bar before its bound is taken without looking. */
const LOOKS = 3_000;

/** Sums of the first so many of a list. */
const runningSums = (values: readonly number[]): number[] => {
  const sums = [0];
  for (const value of values) sums.push((sums.at(-1) ?? 0) + value);
  return sums;
};

interface Suffix {
  readonly capacity: number;
  /** Capacities added, the largest first: how many bars a length needs at least. */
  readonly largest: readonly number[];
  readonly longest: number;
  readonly shortest: readonly number[];
  /** Least waste beyond the full kerfs for so many bars. */
  readonly extra: readonly number[];
  readonly ranks: readonly number[];
  readonly offcuts: number;
  /** No bar from here on can leave a useful remnant once a blank is cut from it. */
  readonly noneUseful: boolean;
}

/** The least that any way of going on can still cost: what the search need not look at. */
export class BarBounds {
  readonly #problem: BarProblem;
  readonly #suffixes: readonly Suffix[];

  constructor(problem: BarProblem) {
    this.#problem = problem;
    const extras = problem.bars.map((bar) => this.#leastExtra(bar));
    this.#suffixes = problem.bars.map((_, at) => this.#suffix(at, extras));
  }

  #suffix(at: number, extras: readonly number[]): Suffix {
    const { bars, types, kerf, usefulRemnant } = this.#problem;
    const rest = bars.slice(at);
    const lengths = rest.map((bar) => bar.length).sort((a, b) => a - b);
    const ranks = rest.map((bar) => bar.rank).sort((a, b) => a - b);
    const sorted = extras.slice(at).sort((a, b) => a - b);
    const least = types.at(-1)?.length ?? 0;
    const longest = lengths.at(-1) ?? 0;
    return {
      capacity: lengths.reduce((so, length) => so + length + kerf, 0),
      largest: runningSums(lengths.toReversed().map((length) => length + kerf)),
      longest,
      shortest: runningSums(lengths),
      extra: runningSums(sorted),
      ranks: runningSums(ranks),
      offcuts: rest.filter((bar) => bar.offcut).length,
      noneUseful: longest - least - kerf < Math.max(1, usefulRemnant),
    };
  }

  /**
   * The least by which a bar's waste differs from one full kerf per blank, over all patterns: below zero when a blank
   * may end so near the bar's end that part of the last kerf is saved, above when a short end cannot be avoided.
   */
  #leastExtra(bar: SearchBar): number {
    const { types, kerf, usefulRemnant } = this.#problem;
    let looks = 0;
    let least = Number.POSITIVE_INFINITY;
    const look = (type: number, net: number, blanks: number): void => {
      looks += 1;
      if (looks > LOOKS) return;
      const one = types[type];
      if (one === undefined) {
        if (blanks === 0) return;
        const behind = bar.length - net - blanks * kerf;
        least = Math.min(least, behind > 0 && behind >= usefulRemnant ? 0 : behind);
        return;
      }
      const room = Math.floor((bar.length + kerf - net - blanks * kerf) / (one.length + kerf));
      for (let count = Math.max(0, Math.min(one.count, room)); count >= 0; count -= 1)
        look(type + 1, net + count * one.length, blanks + count);
    };
    look(0, 0, 0);
    // No pattern fits: the bar is never cut, so it need not be counted as saving anything.
    return looks > LOOKS ? -kerf : least === Number.POSITIVE_INFINITY ? 0 : least;
  }

  /** Most blanks that could be placed by length alone, and the length they need with their kerfs. */
  #mostBlanks(suffix: Suffix, left: readonly number[]): { blanks: number; length: number; net: number } {
    const { types, kerf } = this.#problem;
    let [blanks, length, net] = [0, 0, 0];
    for (let type = types.length - 1; type >= 0; type -= 1) {
      const one = types[type];
      if (one === undefined || one.length > suffix.longest) continue;
      const each = one.length + kerf;
      const fit = Math.min(left[type] ?? 0, Math.floor((suffix.capacity - length) / each));
      blanks += fit;
      length += fit * each;
      net += fit * one.length;
    }
    return { blanks, length, net };
  }

  /** A score no completion from bar `at` on can beat. */
  atLeast(at: number, left: readonly number[]): Score {
    const suffix = this.#suffixes[at];
    const open = left.reduce((so, count) => so + count, 0);
    if (suffix === undefined) return [open, 0, 0, 0, 0];
    const most = this.#mostBlanks(suffix, left);
    const found = suffix.largest.findIndex((capacity) => capacity >= most.length);
    const bars = found === -1 ? suffix.largest.length - 1 : found;
    // Savings may come from any number of further bars, short ends only from those that must be cut.
    let extra = Number.POSITIVE_INFINITY;
    for (let count = bars; count < suffix.extra.length; count += 1)
      extra = Math.min(extra, suffix.extra[count] ?? 0);
    let waste = most.blanks * this.#problem.kerf + (Number.isFinite(extra) ? extra : 0);
    // Where nothing useful can stay behind, all that is not blank is waste.
    if (suffix.noneUseful && most.blanks === open)
      waste = Math.max(waste, (suffix.shortest[bars] ?? 0) - most.net);
    return [
      open - most.blanks,
      Math.max(0, waste),
      bars,
      Math.max(0, bars - suffix.offcuts),
      suffix.ranks[bars] ?? 0,
    ];
  }
}

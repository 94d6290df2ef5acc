/**
 * The search behind `nesting-bars.ts`. Bar by bar it tries every pattern of blanks, prunes by lower bounds, and never
 * follows the same remaining demand twice unless it got there cheaper.
 */
import { BarBounds } from './nesting-bars-bounds.ts';
import { quickPlans } from './nesting-bars-greedy.ts';

/** Blanks of one length that are wanted. */
export interface BarType {
  readonly length: number;
  readonly count: number;
}

/** A bar as the search sees it; `rank` is its place in the order to prefer. */
export interface SearchBar {
  readonly length: number;
  readonly offcut: boolean;
  readonly rank: number;
}

/** How many blanks of each length come from one bar. */
export type Pattern = readonly number[];

/** What is searched; lengths in one unit, `budget` in steps. */
export interface BarProblem {
  /** Equal bars stand next to each other, the preferred one first. */
  readonly bars: readonly SearchBar[];
  /** Longest first. */
  readonly types: readonly BarType[];
  readonly kerf: number;
  readonly usefulRemnant: number;
  readonly budget: number;
}

/** What a plan is judged by, the weightiest first: blanks not placed, waste, bars, whole bars, sum of ranks. */
export type Score = readonly [number, number, number, number, number];

/** Negative when `a` is the better plan. */
const compareScores = (a: Score, b: Score): number => {
  for (const [at, value] of a.entries()) {
    const other = b[at] ?? 0;
    if (value !== other) return value - other;
  }
  return 0;
};

const plus = (a: Score, b: Score): Score => [a[0] + b[0], a[1] + b[1], a[2] + b[2], a[3] + b[3], a[4] + b[4]];

const nothing: Score = [0, 0, 0, 0, 0];

/** What cutting one bar by a pattern adds to a plan; the pattern must fit. */
const costOfBar = (problem: BarProblem, bar: SearchBar, net: number, blanks: number): Score => {
  const behind = bar.length - net - blanks * problem.kerf;
  const left = behind > 0 && behind >= problem.usefulRemnant ? behind : 0;
  return [0, bar.length - net - left, 1, bar.offcut ? 0 : 1, bar.rank];
};

/** The best that was found; `exact` when the search ended by itself. */
export interface Found {
  /** One per bar, in the order of the bars given. */
  readonly patterns: readonly Pattern[];
  readonly waste: number;
  readonly exact: boolean;
}

/** Branch and bound over how many blanks of each length come from each bar. */
export class BarSearch {
  readonly #problem: BarProblem;
  readonly #bounds: BarBounds;
  readonly #seen = new Map<string, Score>();
  readonly #now: Pattern[];
  /** Where the next group of equal bars begins. */
  readonly #nextGroup: readonly number[];
  #best: { readonly score: Score; readonly patterns: readonly Pattern[] };
  #steps = 0;

  constructor(problem: BarProblem) {
    this.#problem = problem;
    this.#bounds = new BarBounds(problem);
    const none = problem.types.map(() => 0);
    this.#now = problem.bars.map(() => none);
    const wanted = problem.types.reduce((so, type) => so + type.count, 0);
    this.#best = { score: [wanted, 0, 0, 0, 0], patterns: [...this.#now] };
    this.#nextGroup = problem.bars.map((bar, at) => {
      const next = problem.bars.findIndex(
        (other, place) => place > at && (other.length !== bar.length || other.offcut !== bar.offcut),
      );
      return next === -1 ? problem.bars.length : next;
    });
  }

  run(): Found {
    for (const patterns of quickPlans(this.#problem)) this.#offer(this.#scoreOf(patterns), patterns);
    this.#visit(
      0,
      this.#problem.types.map((type) => type.count),
      nothing,
    );
    return {
      patterns: this.#best.patterns,
      waste: this.#best.score[1],
      exact: this.#steps <= this.#problem.budget,
    };
  }

  #offer(score: Score, patterns: readonly Pattern[]): void {
    if (compareScores(score, this.#best.score) < 0) this.#best = { score, patterns: [...patterns] };
  }

  #visit(at: number, left: readonly number[], so: Score): void {
    this.#steps += 1;
    const open = left.reduce((sum, count) => sum + count, 0);
    const bar = this.#problem.bars[at];
    if (open === 0 || bar === undefined) {
      this.#offer([open, so[1], so[2], so[3], so[4]], this.#now);
      return;
    }
    if (this.#steps > this.#problem.budget) return;
    if (compareScores(plus(so, this.#bounds.atLeast(at, left)), this.#best.score) >= 0) return;
    const key = `${String(at)}:${left.join(',')}`;
    const before = this.#seen.get(key);
    if (before !== undefined && compareScores(before, so) <= 0) return;
    this.#seen.set(key, so);
    this.#fill({ at, left, so, pattern: left.map(() => 0) }, bar, 0, 0, 0);
    this.#now[at] = left.map(() => 0);
    this.#visit(this.#nextGroup[at] ?? this.#problem.bars.length, left, so);
  }

  /** Tries every pattern for one bar, the fullest first. `net` and `blanks` are what the pattern holds so far. */
  #fill(
    node: { at: number; left: readonly number[]; so: Score; pattern: number[] },
    bar: SearchBar,
    type: number,
    net: number,
    blanks: number,
  ): void {
    this.#steps += 1;
    if (this.#steps > this.#problem.budget) return;
    const { pattern, left, at, so } = node;
    const length = this.#problem.types[type]?.length;
    if (length === undefined) {
      if (blanks === 0) return;
      this.#now[at] = [...pattern];
      const rest = left.map((count, each) => count - (pattern[each] ?? 0));
      this.#visit(at + 1, rest, plus(so, costOfBar(this.#problem, bar, net, blanks)));
      return;
    }
    const { kerf } = this.#problem;
    // The last blank needs no kerf when it ends at the bar's end.
    const room = Math.floor((bar.length + kerf - net - blanks * kerf) / (length + kerf));
    for (let count = Math.max(0, Math.min(left[type] ?? 0, room)); count >= 0; count -= 1) {
      pattern[type] = count;
      this.#fill(node, bar, type + 1, net + count * length, blanks + count);
    }
    pattern[type] = 0;
  }

  #scoreOf(patterns: readonly Pattern[]): Score {
    const { bars, types } = this.#problem;
    const wanted = types.reduce((so, type) => so + type.count, 0);
    return patterns.reduce<Score>(
      (so, pattern, at) => {
        const bar = bars[at];
        const blanks = pattern.reduce((sum, count) => sum + count, 0);
        if (bar === undefined || blanks === 0) return so;
        const net = pattern.reduce((sum, count, type) => sum + count * (types[type]?.length ?? 0), 0);
        const [, ...cost] = costOfBar(this.#problem, bar, net, blanks);
        return plus(so, [-blanks, ...cost]);
      },
      [wanted, 0, 0, 0, 0],
    );
  }
}

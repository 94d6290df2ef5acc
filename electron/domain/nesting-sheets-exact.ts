/**
 * The exact half of `nesting-sheets.ts`: every way of parting a few sheets by straight cuts from edge to edge, each laid
 * against a piece, remembered by part and demand and cut short by bounds on the kerf still to come. Gives up after so
 * many steps. Sizes are whole numbers of any one unit, areas of its square.
 */

/** Pieces of one size that are wanted. */
export interface PieceType {
  readonly length: number;
  readonly width: number;
  readonly mayTurn: boolean;
  readonly count: number;
}

/** A sheet as the search sees it. */
export interface SearchSheet {
  readonly length: number;
  readonly width: number;
  /** Cut off another sheet before: used up before a whole one is. */
  readonly offcut: boolean;
}

/** A piece laid on a sheet. */
export interface Laid {
  readonly type: number;
  readonly x: number;
  readonly y: number;
  readonly turned: boolean;
}

/**
 * What a plan is judged by, the weightiest first: pieces not placed, waste, sheets begun, whole ones among them, largest
 * offcut (negative).
 */
export type SheetScore = readonly [number, number, number, number, number];

/** Negative when `a` is the better plan. */
export const compareSheetScores = (a: SheetScore, b: SheetScore): number => {
  for (const [at, value] of a.entries()) {
    const other = b[at] ?? 0;
    if (value !== other) return value - other;
  }
  return 0;
};

/** What an offcut must be to be kept, in the unit of the search. */
export interface KeepRule {
  readonly leastSide: number;
  readonly leastArea: number;
}

/** Useful area of a rectangle no piece comes from. */
export const keptOf = (length: number, width: number, rule: KeepRule): number =>
  Math.min(length, width) >= rule.leastSide && length * width >= rule.leastArea ? length * width : 0;

/** Thrown when the steps are used up. */
class OutOfSteps extends Error {}

interface Cut {
  readonly across: boolean;
  readonly at: number;
  readonly first: number;
}
interface Solved {
  readonly waste: number;
  readonly largest: number;
  /** How it is parted; nothing for a piece that fills it or an offcut. */
  readonly cut: Cut | undefined;
}
/** The best answer, or the waste up to which none was found. */
type Known = { readonly solved: Solved } | { readonly noneUpTo: number };

/** How the demand is shared over the sheets from one on; no score when it cannot be within the limit. */
interface Shared {
  readonly score: SheetScore | undefined;
  readonly takes: readonly number[];
}

interface Part {
  readonly length: number;
  readonly width: number;
  readonly demand: number;
}

/** Rounding of the square root must never count against a plan. */
const SLACK = 1e-6;

const partOf = (across: boolean, along: number, side: number, demand: number): Part =>
  across ? { length: along, width: side, demand } : { length: side, width: along, demand };

const areaFrom = (sheets: readonly SearchSheet[], at: number): number =>
  sheets.slice(at).reduce((so, sheet) => so + sheet.length * sheet.width, 0);

/** What is behind a cut that takes the rest of the part with its width. */
const EMPTY: Solved = { waste: 0, largest: 0, cut: undefined };

const isBetter = (a: Solved, b: Solved): boolean =>
  a.waste < b.waste || (a.waste === b.waste && a.largest > b.largest);

const withSheet = (sheet: SearchSheet, solved: Solved | undefined, rest: SheetScore): SheetScore =>
  solved === undefined
    ? rest
    : [
        rest[0],
        rest[1] + solved.waste,
        rest[2] + 1,
        rest[3] + (sheet.offcut ? 0 : 1),
        Math.min(rest[4], -solved.largest),
      ];

const fits = (type: PieceType, length: number, width: number): boolean =>
  (type.length <= length && type.width <= width) ||
  (type.mayTurn && type.width <= length && type.length <= width);

/** Demands larger than this many combinations are not tried exactly. */
const MOST_DEMANDS = 2_048;

/** The search over sheets of one problem, with what it has found out about parts so far. */
export class ExactSheets {
  readonly #types: readonly PieceType[];
  readonly #kerf: number;
  readonly #rule: KeepRule;
  readonly #demands: readonly (readonly number[])[];
  readonly #areas: readonly number[];
  /** Half the rims of all pieces of a demand. */
  readonly #rims: readonly number[];
  readonly #known = new Map<string, Known>();
  readonly #places = new Map<string, readonly number[]>();
  readonly #subs = new Map<number, readonly number[]>();
  #steps: number;
  #limit = Number.POSITIVE_INFINITY;
  #mustPlaceAll = false;

  private constructor(types: readonly PieceType[], kerf: number, rule: KeepRule, budget: number) {
    this.#types = types;
    this.#kerf = kerf;
    this.#rule = rule;
    this.#steps = budget;
    const weights: number[] = [];
    let demands = 1;
    for (const type of types) {
      weights.push(demands);
      demands *= type.count + 1;
    }
    this.#demands = Array.from({ length: demands }, (_, code) =>
      types.map((type, at) => Math.floor(code / (weights[at] ?? 1)) % (type.count + 1)),
    );
    const added = (measure: (type: PieceType) => number): number[] =>
      this.#demands.map((demand) =>
        types.reduce((so, type, at) => so + (demand[at] ?? 0) * measure(type), 0),
      );
    this.#areas = added((type) => type.length * type.width);
    this.#rims = added((type) => type.length + type.width);
  }

  /** Undefined when there are too many kinds of pieces to try. */
  static for(
    types: readonly PieceType[],
    kerf: number,
    rule: KeepRule,
    budget: number,
  ): ExactSheets | undefined {
    const demands = types.reduce((so, type) => so * (type.count + 1), 1);
    return demands > MOST_DEMANDS ? undefined : new ExactSheets(types, kerf, rule, budget);
  }

  /**
   * The best plan over all sheets, in the order to prefer them. Undefined when the steps ran out; no score when nothing
   * is as good as the plan already known.
   */
  run(
    sheets: readonly SearchSheet[],
    known: SheetScore,
  ): { score: SheetScore | undefined; laid: readonly (readonly Laid[])[] } | undefined {
    try {
      const all = this.#demands.length - 1;
      // A plan that places everything is beaten by less waste only.
      this.#mustPlaceAll = known[0] === 0;
      this.#limit = this.#mustPlaceAll ? known[1] : Number.POSITIVE_INFINITY;
      const { score, takes } = this.#share(sheets, 0, all, new Map());
      const laid = sheets.map((sheet, at) =>
        this.#lay({ length: sheet.length, width: sheet.width, demand: takes[at] ?? 0 }, 0, 0),
      );
      return { score, laid };
    } catch (error) {
      if (error instanceof OutOfSteps) return undefined;
      throw error;
    }
  }

  #step(): void {
    this.#steps -= 1;
    if (this.#steps < 0) throw new OutOfSteps();
  }

  /** Gives each sheet in turn a part of the demand. */
  #share(sheets: readonly SearchSheet[], at: number, demand: number, known: Map<string, Shared>): Shared {
    const sheet = sheets[at];
    if (demand === 0 || sheet === undefined) {
      const open = this.#demands[demand]?.reduce((so, count) => so + count, 0) ?? 0;
      return { score: [open, 0, 0, 0, 0], takes: [] };
    }
    const key = `${String(at)} ${String(demand)}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    let found: Shared = { score: undefined, takes: [] };
    for (const take of this.#subsOf(demand)) {
      this.#step();
      const now = this.#shareWith(sheets, at, demand, take, known);
      const so = found.score;
      if (now.score !== undefined && (so === undefined || compareSheetScores(now.score, so) < 0)) found = now;
    }
    known.set(key, found);
    return found;
  }

  /** The best there is once one sheet takes a given part of the demand. */
  #shareWith(
    sheets: readonly SearchSheet[],
    at: number,
    demand: number,
    take: number,
    known: Map<string, Shared>,
  ): Shared {
    const none = { score: undefined, takes: [] };
    const sheet = sheets[at];
    const rest = demand - take;
    if (sheet === undefined) return none;
    if (this.#mustPlaceAll && (this.#areas[rest] ?? 0) > areaFrom(sheets, at + 1)) return none;
    const part = { length: sheet.length, width: sheet.width, demand: take };
    const solved = take === 0 ? undefined : this.#solve(part, this.#limit);
    if (solved === null) return none;
    const next = this.#nextSheet(sheets, at, take);
    const others = this.#share(sheets, next, rest, known);
    if (others.score === undefined) return none;
    const skipped = Array<number>(next - at - 1).fill(0);
    return { score: withSheet(sheet, solved, others.score), takes: [take, ...skipped, ...others.takes] };
  }

  /** A sheet left whole means that its equals behind it stay whole too. */
  #nextSheet(sheets: readonly SearchSheet[], at: number, take: number): number {
    if (take !== 0) return at + 1;
    const now = sheets[at];
    const next = sheets.findIndex(
      (sheet, place) =>
        place > at &&
        (sheet.length !== now?.length || sheet.width !== now.width || sheet.offcut !== now.offcut),
    );
    return next === -1 ? sheets.length : next;
  }

  /** Every part of a demand, the largest first, nothing last. */
  #subsOf(demand: number): readonly number[] {
    const known = this.#subs.get(demand);
    if (known !== undefined) return known;
    const whole = this.#demands[demand] ?? [];
    const subs: number[] = [];
    for (let code = demand; code >= 0; code -= 1) {
      if (this.#demands[code]?.every((count, at) => count <= (whole[at] ?? 0)) === true) subs.push(code);
    }
    this.#subs.set(demand, subs);
    return subs;
  }

  /** Lengths at which a cut can lie against a row of pieces of the demand. */
  #placesOf(demand: number, across: boolean): readonly number[] {
    const key = `${String(demand)} ${String(across)}`;
    const known = this.#places.get(key);
    if (known !== undefined) return known;
    let sums = new Set<number>([0]);
    for (const [at, count] of (this.#demands[demand] ?? []).entries()) {
      const type = this.#types[at];
      if (type === undefined || count === 0) continue;
      const sizes = type.mayTurn
        ? [...new Set([type.length, type.width])]
        : [across ? type.length : type.width];
      sums = this.#withRow(sums, sizes, count);
    }
    // Each piece in the row carried a kerf; the last one's is the cut itself.
    const places = [...sums]
      .filter((sum) => sum > 0)
      .map((sum) => sum - this.#kerf)
      .sort((a, b) => a - b);
    this.#places.set(key, places);
    return places;
  }

  #withRow(sums: ReadonlySet<number>, sizes: readonly number[], count: number): Set<number> {
    const [one = 0, two] = sizes;
    const all = new Set<number>();
    for (const sum of sums) {
      for (let first = 0; first <= count; first += 1) {
        const most = two === undefined ? 0 : count - first;
        for (let second = 0; second <= most; second += 1) {
          this.#step();
          all.add(sum + first * (one + this.#kerf) + second * ((two ?? 0) + this.#kerf));
        }
      }
    }
    return all;
  }

  /**
   * Kerf that must yet be cut at least where no more than `limit` is wasted. Each cut of length c adds at most 2c of rim,
   * and all parts at the end have a rim: the pieces theirs, what is left over at least that of one square.
   */
  #kerfAtLeast({ length, width, demand }: Part, limit: number): number {
    const over = Math.max(0, length * width - (this.#areas[demand] ?? 0) - limit);
    const rims = (this.#rims[demand] ?? 0) + 2 * Math.sqrt(over);
    return this.#kerf * Math.max(0, rims - length - width - SLACK);
  }

  /** The least waste of a part once the demand is cut from it, no more than `limit`; null when there is no such way. */
  #solve(part: Part, limit: number): Solved | null {
    const { length, width, demand } = part;
    if (demand === 0) {
      const kept = keptOf(length, width, this.#rule);
      const waste = length * width - kept;
      return waste <= limit ? { waste, largest: kept, cut: undefined } : null;
    }
    if ((this.#areas[demand] ?? 0) > length * width || this.#kerfAtLeast(part, limit) > limit) return null;
    const key = `${String(length)} ${String(width)} ${String(demand)}`;
    const known = this.#known.get(key);
    if (known !== undefined && 'solved' in known) return known.solved.waste <= limit ? known.solved : null;
    if (known !== undefined && limit <= known.noneUpTo) return null;
    const found = this.#solveAnew(part, limit);
    this.#known.set(key, found === null ? { noneUpTo: limit } : { solved: found });
    return found;
  }

  #solveAnew(part: Part, limit: number): Solved | null {
    const { length, width, demand } = part;
    const counts = this.#demands[demand] ?? [];
    const wanted = counts.flatMap((count, at) => (count > 0 ? [at] : []));
    const types = wanted.flatMap((at) => this.#types[at] ?? []);
    if (!types.every((type) => fits(type, length, width))) return null;
    const [only] = types;
    if (only !== undefined && wanted.length === 1 && counts[wanted[0] ?? 0] === 1) {
      const straight = only.length === length && only.width === width;
      const turned = only.mayTurn && only.width === length && only.length === width;
      if (straight || turned) return { waste: 0, largest: 0, cut: undefined };
    }
    let best: Solved | null = null;
    for (const across of [true, false]) best = this.#tryCuts(part, across, best, limit);
    return best;
  }

  #tryCuts(part: Part, across: boolean, soFar: Solved | null, limit: number): Solved | null {
    const end = across ? part.length : part.width;
    let best = soFar;
    for (const first of this.#subsOf(part.demand)) {
      if (first === 0) continue;
      for (const at of this.#placesOf(first, across)) {
        if (at >= end) break;
        this.#step();
        const now = this.#parted(part, { across, at, first }, best, best?.waste ?? limit);
        if (now !== null && (best === null || isBetter(now, best))) best = now;
      }
    }
    return best;
  }

  /** Both sides of a cut; null when they do not hold the demand, or waste too much, or cannot be better than `best`. */
  #parted(part: Part, cut: Cut, best: Solved | null, limit: number): Solved | null {
    const [end, side] = cut.across ? [part.length, part.width] : [part.width, part.length];
    const behind = end - cut.at - this.#kerf;
    const rest = part.demand - cut.first;
    const kerf = Math.min(this.#kerf, end - cut.at) * side;
    const near = partOf(cut.across, cut.at, side, cut.first);
    if (behind <= 0)
      return rest === 0 ? this.#joined(cut, kerf, this.#solve(near, limit - kerf), EMPTY) : null;
    const far = partOf(cut.across, behind, side, rest);
    if ((this.#areas[rest] ?? 0) > far.length * far.width) return null;
    const farLeast = this.#kerfAtLeast(far, limit - kerf);
    const least = kerf + this.#kerfAtLeast(near, limit - kerf) + farLeast;
    if (least > limit) return null;
    // As much waste as the best plan so far must at least promise a larger offcut.
    if (best !== null && least >= best.waste && this.#mostOffcut(near, far) <= best.largest) return null;
    const one = this.#solve(near, limit - kerf - farLeast);
    return one === null ? null : this.#joined(cut, kerf, one, this.#solve(far, limit - kerf - one.waste));
  }

  #joined(cut: Cut, kerf: number, one: Solved | null, two: Solved | null): Solved | null {
    if (one === null || two === null) return null;
    return { waste: kerf + one.waste + two.waste, largest: Math.max(one.largest, two.largest), cut };
  }

  #mostOffcut(near: Part, far: Part): number {
    const free = (part: Part): number => part.length * part.width - (this.#areas[part.demand] ?? 0);
    return Math.max(free(near), free(far));
  }

  /** Where the pieces of a solved part lie. */
  #lay(part: Part, x: number, y: number): readonly Laid[] {
    const { length, width, demand } = part;
    if (demand === 0) return [];
    const known = this.#known.get(`${String(length)} ${String(width)} ${String(demand)}`);
    const cut = known !== undefined && 'solved' in known ? known.solved.cut : undefined;
    if (cut === undefined) {
      const type = (this.#demands[demand] ?? []).findIndex((count) => count > 0);
      return [{ type, x, y, turned: this.#types[type]?.length !== length }];
    }
    const [end, side] = cut.across ? [length, width] : [width, length];
    const step = cut.at + this.#kerf;
    const near = this.#lay(partOf(cut.across, cut.at, side, cut.first), x, y);
    const rest = demand - cut.first;
    if (rest === 0) return near;
    const far = partOf(cut.across, end - step, side, rest);
    return [...near, ...this.#lay(far, x + (cut.across ? step : 0), y + (cut.across ? 0 : step))];
  }
}

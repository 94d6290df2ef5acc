/** The quick half of `nesting-sheets.ts`: pieces laid one after another into free rectangles, by many rules of thumb. */
import { compareSheetScores, keptOf } from './nesting-sheets-exact.ts';
import type { KeepRule, Laid, PieceType, SearchSheet, SheetScore } from './nesting-sheets-exact.ts';
import type { Rect } from './sheet-cuts.ts';

/** What is planned; sizes in one whole unit. */
export interface QuickProblem {
  readonly sheets: readonly SearchSheet[];
  readonly types: readonly PieceType[];
  readonly kerf: number;
  readonly rule: KeepRule;
}

/** The best of the quick plans. */
export interface QuickPlan {
  readonly score: SheetScore;
  /** Per sheet. */
  readonly laid: readonly (readonly Laid[])[];
}

/** Orders tried at random, always the same ones. */
const SHUFFLES = 24;

interface Open {
  readonly sheet: number;
  readonly rect: Rect;
}
interface Spot {
  readonly open: Open;
  readonly turned: boolean;
  readonly length: number;
  readonly width: number;
}
/** Smaller is better. */
type Choice = (spot: Spot) => number;
/** Which of the two cuts along a laid piece goes through from edge to edge. */
type Split = (rect: Rect, length: number, width: number, kerf: number) => 'across' | 'lengthwise';

const tightest: Choice = ({ open: { rect }, length, width }) =>
  Math.min(rect.length - length, rect.width - width);
const leastArea: Choice = ({ open: { rect } }) => rect.length * rect.width;
const lowest: Choice = ({ open: { rect } }) => rect.x + rect.y;

const largerPart: Split = (rect, length, width, kerf) => {
  const behind = Math.max(0, rect.length - length - kerf);
  const beside = Math.max(0, rect.width - width - kerf);
  return behind * rect.width >= beside * rect.length ? 'across' : 'lengthwise';
};
const splits: readonly Split[] = [() => 'across', () => 'lengthwise', largerPart];

/** The rectangles left beside and behind a piece laid in the near corner of a free one. */
function leftOver(
  rect: Rect,
  length: number,
  width: number,
  kerf: number,
  way: 'across' | 'lengthwise',
): Rect[] {
  const behind = rect.length - length - kerf;
  const beside = rect.width - width - kerf;
  const x = rect.x + length + kerf;
  const y = rect.y + width + kerf;
  const parts =
    way === 'across'
      ? [
          { x, y: rect.y, length: behind, width: rect.width },
          { x: rect.x, y, length, width: beside },
        ]
      : [
          { x, y: rect.y, length: behind, width },
          { x: rect.x, y, length: rect.length, width: beside },
        ];
  return parts.filter((part) => part.length > 0 && part.width > 0);
}

/** A fixed sequence of numbers below one, so that the same rack gives the same plan. */
function steadyChance(): () => number {
  let state = 1;
  return () => {
    // Minimal standard generator of Park and Miller (1988).
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
}

/** The pieces one by one, in orders worth trying. */
function ordersOf(types: readonly PieceType[]): readonly (readonly number[])[] {
  const all = types.flatMap((type, at) => Array<number>(type.count).fill(at));
  const by = (size: (type: PieceType) => number) =>
    all.toSorted((a, b) => {
      const [one, two] = [types[a], types[b]];
      return one === undefined || two === undefined ? 0 : size(two) - size(one) || a - b;
    });
  const chance = steadyChance();
  const shuffled = Array.from({ length: SHUFFLES }, () => {
    const keys = all.map((type) => ({ type, key: chance() }));
    return keys.sort((a, b) => a.key - b.key).map(({ type }) => type);
  });
  return [
    by((type) => type.length * type.width),
    by((type) => Math.max(type.length, type.width)),
    by((type) => type.width),
    by((type) => type.length),
    by((type) => type.length + type.width),
    ...shuffled,
  ];
}

class Filling {
  readonly #problem: QuickProblem;
  readonly #choice: Choice;
  readonly #split: Split;
  readonly #laid: Laid[][];
  #free: Open[] = [];
  #unplaced = 0;

  constructor(problem: QuickProblem, choice: Choice, split: Split) {
    this.#problem = problem;
    this.#choice = choice;
    this.#split = split;
    this.#laid = problem.sheets.map(() => []);
  }

  #spotsIn(open: Open, type: PieceType): readonly Spot[] {
    const ways = type.mayTurn && type.length !== type.width ? [false, true] : [false];
    return ways.flatMap((turned) => {
      const [length, width] = turned ? [type.width, type.length] : [type.length, type.width];
      return length <= open.rect.length && width <= open.rect.width ? [{ open, turned, length, width }] : [];
    });
  }

  #bestSpot(free: readonly Open[], type: PieceType): Spot | undefined {
    let best: Spot | undefined;
    let least = Number.POSITIVE_INFINITY;
    for (const open of free) {
      for (const spot of this.#spotsIn(open, type)) {
        const now = this.#choice(spot);
        if (now < least) [best, least] = [spot, now];
      }
    }
    return best;
  }

  /** Lays a piece on a sheet begun, else on the next that has room for it. */
  lay(at: number): void {
    const type = this.#problem.types[at];
    if (type === undefined) return;
    const begun = this.#bestSpot(this.#free, type);
    const spot = begun ?? this.#beginSheet(type);
    if (spot === undefined) {
      this.#unplaced += 1;
      return;
    }
    const { open, turned, length, width } = spot;
    const way = this.#split(open.rect, length, width, this.#problem.kerf);
    const parts = leftOver(open.rect, length, width, this.#problem.kerf, way);
    this.#free = this.#free.filter((each) => each !== open);
    this.#free.push(...parts.map((rect) => ({ sheet: open.sheet, rect })));
    this.#laid[open.sheet]?.push({ type: at, x: open.rect.x, y: open.rect.y, turned });
  }

  #beginSheet(type: PieceType): Spot | undefined {
    for (const [sheet, { length, width }] of this.#problem.sheets.entries()) {
      if (this.#laid[sheet]?.length !== 0) continue;
      const spot = this.#bestSpot([{ sheet, rect: { x: 0, y: 0, length, width } }], type);
      if (spot !== undefined) return spot;
    }
    return undefined;
  }

  plan(): QuickPlan {
    const { sheets, types, rule } = this.#problem;
    let [waste, begun, whole, largest] = [0, 0, 0, 0];
    for (const [at, laid] of this.#laid.entries()) {
      const sheet = sheets[at];
      if (sheet === undefined || laid.length === 0) continue;
      begun += 1;
      whole += sheet.offcut ? 0 : 1;
      waste += sheet.length * sheet.width;
      for (const { type } of laid) waste -= (types[type]?.length ?? 0) * (types[type]?.width ?? 0);
    }
    for (const { rect } of this.#free) {
      const kept = keptOf(rect.length, rect.width, rule);
      waste -= kept;
      largest = Math.max(largest, kept);
    }
    return { score: [this.#unplaced, waste, begun, whole, -largest], laid: this.#laid };
  }
}

/** The best of many quick plans. */
export function quickSheets(problem: QuickProblem): QuickPlan {
  let best: QuickPlan | undefined;
  for (const order of ordersOf(problem.types)) {
    for (const choice of [tightest, leastArea, lowest]) {
      for (const split of splits) {
        const filling = new Filling(problem, choice, split);
        for (const type of order) filling.lay(type);
        const plan = filling.plan();
        if (best === undefined || compareSheetScores(plan.score, best.score) < 0) best = plan;
      }
    }
  }
  return best ?? { score: [0, 0, 0, 0, 0], laid: problem.sheets.map(() => []) };
}

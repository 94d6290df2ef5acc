/**
 * Taking a sheet apart by straight cuts from edge to edge. Given where the pieces lie, it finds the cuts that leave the
 * most useful material; a plan and its booking both ask here, so that they agree on every offcut.
 */
import { mulDiv, roundHalfAwayBig, toSafe } from './integers.ts';

/** A rectangle on a sheet, nanometre; `length` runs along x, the way of the grain. */
export interface Rect {
  readonly x: number;
  readonly y: number;
  readonly length: number;
  readonly width: number;
}

/** What becomes of a part of the sheet. */
export type SheetPart =
  | { readonly kind: 'piece'; readonly rect: Rect; readonly piece: number }
  | { readonly kind: 'offcut'; readonly rect: Rect; readonly useful: boolean }
  | {
      readonly kind: 'cut';
      readonly rect: Rect;
      /** `across`: the cut runs over the width, `at` measures along the length; `lengthwise` the other way. */
      readonly way: 'across' | 'lengthwise';
      /** From the near edge of this part to the near side of the cut. */
      readonly at: number;
      readonly first: SheetPart;
      /** Nothing is behind a cut that takes the rest of the part with its width. */
      readonly second: SheetPart | null;
    };

/** What an offcut must be to be kept. */
export interface OffcutRule {
  /** Least area worth keeping, square micrometre. */
  readonly usefulArea: number;
}

/** A strip narrower than half an inch yields no scale and no spacer, whatever its area; common practice, no source. */
export const LEAST_SIDE = 12_700_000;

const NM2_PER_UM2 = 1_000_000;

/** Area of a rectangle in the books' unit. @returns square micrometre, rounded once */
export const sheetArea = (length: number, width: number): number => mulDiv(length, width, NM2_PER_UM2);

/** What is left of an area without others, rounded once. */
const areaWithout = (whole: Rect, others: readonly Rect[]): number => {
  const exact = (rect: Rect): bigint => BigInt(rect.length) * BigInt(rect.width);
  const rest = others.reduce((so, rect) => so - exact(rect), exact(whole));
  return toSafe(roundHalfAwayBig(rest, BigInt(NM2_PER_UM2)));
};

/** Whether a rectangle goes back on the rack. */
const isUseful = (length: number, width: number, { usefulArea }: OffcutRule): boolean =>
  Math.min(length, width) >= LEAST_SIDE && sheetArea(length, width) >= usefulArea;

interface Best {
  /** Useful area kept, square micrometre. */
  readonly kept: number;
  readonly largest: number;
  readonly part: SheetPart;
}

const betterOf = (a: Best | null, b: Best | null): Best | null => {
  if (a === null || b === null) return a ?? b;
  return b.kept > a.kept || (b.kept === a.kept && b.largest > a.largest) ? b : a;
};

const right = (rect: Rect): number => rect.x + rect.length;
const top = (rect: Rect): number => rect.y + rect.width;

/** What is behind a cut that takes the rest of the part with its width. */
const NOTHING = { kept: 0, largest: 0, part: null };

/** Parts looked at before the first cut that works is taken instead of the best one. */
const LOOKS = 60_000;

class Dissection {
  readonly #pieces: readonly Rect[];
  readonly #kerf: number;
  readonly #rule: OffcutRule;
  readonly #known = new Map<string, Best | null>();
  #looks = 0;

  constructor(pieces: readonly Rect[], kerf: number, rule: OffcutRule) {
    this.#pieces = pieces;
    this.#kerf = kerf;
    this.#rule = rule;
  }

  /** The best way to take `rect` apart into the pieces named; null when straight cuts cannot do it. */
  best(rect: Rect, inside: readonly number[]): Best | null {
    const key = `${String(rect.x)},${String(rect.y)},${String(rect.length)},${String(rect.width)}`;
    const known = this.#known.get(key);
    if (known !== undefined) return known;
    const found = this.#find(rect, inside);
    this.#known.set(key, found);
    return found;
  }

  #find(rect: Rect, inside: readonly number[]): Best | null {
    if (inside.length === 0) {
      const useful = isUseful(rect.length, rect.width, this.#rule);
      const area = useful ? sheetArea(rect.length, rect.width) : 0;
      return { kept: area, largest: area, part: { kind: 'offcut', rect, useful } };
    }
    const [only = -1] = inside;
    const piece = this.#pieces[only];
    if (inside.length === 1 && piece?.length === rect.length && piece.width === rect.width)
      return { kept: 0, largest: 0, part: { kind: 'piece', rect, piece: only } };
    let best: Best | null = null;
    for (const way of ['across', 'lengthwise'] as const) {
      for (const at of this.#places(rect, inside, way)) {
        this.#looks += 1;
        if (best !== null && this.#looks > LOOKS) return best;
        best = betterOf(best, this.#cut(rect, inside, way, at));
      }
    }
    return best;
  }

  /** Where a cut can lie against a piece. */
  #places(rect: Rect, inside: readonly number[], way: 'across' | 'lengthwise'): readonly number[] {
    const end = way === 'across' ? right(rect) : top(rect);
    const places = inside.flatMap((at) => {
      const piece = this.#pieces[at];
      return piece === undefined ? [] : [way === 'across' ? right(piece) : top(piece)];
    });
    return [...new Set(places)].filter((place) => place < end).sort((a, b) => a - b);
  }

  #cut(rect: Rect, inside: readonly number[], way: 'across' | 'lengthwise', at: number): Best | null {
    const sides = this.#sides(inside, way, at);
    if (sides === null) return null;
    const across = way === 'across';
    const from = across ? rect.x : rect.y;
    const behind = (across ? right(rect) : top(rect)) - at - this.#kerf;
    if (behind <= 0 && sides.far.length > 0) return null;
    const first = this.best(
      across ? { ...rect, length: at - from } : { ...rect, width: at - from },
      sides.near,
    );
    if (first === null) return null;
    const begin = at + this.#kerf;
    const rest = across ? { ...rect, x: begin, length: behind } : { ...rect, y: begin, width: behind };
    const second = behind > 0 ? this.best(rest, sides.far) : NOTHING;
    if (second === null) return null;
    return {
      kept: first.kept + second.kept,
      largest: Math.max(first.largest, second.largest),
      part: { kind: 'cut', rect, way, at: at - from, first: first.part, second: second.part },
    };
  }

  /** Which pieces lie before and behind a cut; null when it would go through one. */
  #sides(inside: readonly number[], way: 'across' | 'lengthwise', at: number) {
    const near: number[] = [];
    const far: number[] = [];
    for (const each of inside) {
      const piece = this.#pieces[each];
      if (piece === undefined) continue;
      if ((way === 'across' ? right(piece) : top(piece)) <= at) near.push(each);
      else if ((way === 'across' ? piece.x : piece.y) >= at + this.#kerf) far.push(each);
      else return null;
    }
    return { near, far };
  }
}

/** A sheet parted by straight cuts from edge to edge. */
export interface TakenApart {
  readonly root: SheetPart;
  /** Every part no piece comes from, useful or not. */
  readonly offcuts: readonly (Rect & { readonly useful: boolean })[];
  /** Kerf and offcuts too small to keep, square micrometre. */
  readonly waste: number;
}

/** Parts at the ends of the cuts, in the order they come off. */
const endsOf = (part: SheetPart): readonly Exclude<SheetPart, { kind: 'cut' }>[] =>
  part.kind === 'cut'
    ? [...endsOf(part.first), ...(part.second === null ? [] : endsOf(part.second))]
    : [part];

/**
 * Finds the cuts that part the pieces, leaving the most useful material and then the largest single offcut. Undefined
 * when straight cuts from edge to edge, each laid against a piece, cannot part them: pieces that overlap, stick out or
 * lie closer than the cut is wide.
 */
export function takeApart(
  sheet: { readonly length: number; readonly width: number },
  pieces: readonly Rect[],
  kerf: number,
  rule: OffcutRule,
): TakenApart | undefined {
  const whole = { x: 0, y: 0, length: sheet.length, width: sheet.width };
  if (pieces.some((piece) => right(piece) > sheet.length || top(piece) > sheet.width)) return undefined;
  const found = new Dissection(pieces, kerf, rule).best(
    whole,
    pieces.map((_, at) => at),
  );
  if (found === null) return undefined;
  const offcuts = endsOf(found.part).flatMap((end) =>
    end.kind === 'offcut' ? [{ ...end.rect, useful: end.useful }] : [],
  );
  const kept = offcuts.filter((offcut) => offcut.useful);
  return { root: found.part, offcuts, waste: areaWithout(whole, [...pieces, ...kept]) };
}

/**
 * How to cut rectangles from sheets by straight cuts from edge to edge. In this order: as many pieces as can be had,
 * least waste (kerf and offcuts too small to keep), fewest sheets begun, offcuts before whole sheets, the largest single
 * offcut. Exact for few pieces;
 * beyond that the best of many quick plans, and it says so.
 */
import { ExactSheets, type Laid, type PieceType } from './nesting-sheets-exact.ts';
import { quickSheets } from './nesting-sheets-quick.ts';
import { LEAST_SIDE, type OffcutRule, type Rect, takeApart, type TakenApart } from './sheet-cuts.ts';

/** A sheet as it lies on the rack; nanometre, the length along the grain. */
export interface NestSheet {
  readonly id: string;
  readonly length: number;
  readonly width: number;
  /** Cut off another sheet before: used up before a whole one is. */
  readonly offcut: boolean;
}

/** A piece that is wanted. */
export interface NestPiece {
  readonly key: string;
  readonly length: number;
  readonly width: number;
  /** False where the grain or the weave must run along the length. */
  readonly mayTurn: boolean;
}

/** A piece where it lies on its sheet, nanometre. */
export interface PlacedOn extends Rect {
  readonly key: string;
  readonly turned: boolean;
}

/** A sheet to cut: its pieces, the cuts in their order, and what is left. */
export interface NestedSheet extends TakenApart {
  readonly id: string;
  /** In the order the root's piece numbers mean. */
  readonly pieces: readonly PlacedOn[];
}

/** A plan of sheets, with the keys of the pieces no sheet has room for. */
export interface SheetNesting {
  readonly sheets: readonly NestedSheet[];
  readonly unplaced: readonly string[];
  /** Square micrometre. */
  readonly waste: number;
  /** True: no other straight cuts laid against the pieces do better. */
  readonly exact: boolean;
}

export interface SheetNestingInput {
  /** In the order to prefer them. */
  readonly sheets: readonly NestSheet[];
  readonly pieces: readonly NestPiece[];
  readonly kerf: number;
  readonly rule: OffcutRule;
  /** Steps of the exact search; counted, not timed. */
  readonly budget?: number;
}

/** About two seconds of work on a slow machine. */
const BUDGET = 1_500_000;

interface Kind extends Omit<PieceType, 'count'> {
  readonly keys: string[];
}

function kindsOf(pieces: readonly NestPiece[]): Kind[] {
  const kinds = new Map<string, Kind>();
  for (const { key, length, width, mayTurn } of pieces) {
    // A square looks the same turned.
    const turns = mayTurn && length !== width;
    const name = `${String(length)} ${String(width)} ${String(turns)}`;
    const kind = kinds.get(name) ?? { length, width, mayTurn: turns, keys: [] };
    kind.keys.push(key);
    kinds.set(name, kind);
  }
  return [...kinds.values()];
}

const placedOn = (kind: Kind, laid: Laid, key: string): PlacedOn => ({
  key,
  x: laid.x,
  y: laid.y,
  turned: laid.turned,
  length: laid.turned ? kind.width : kind.length,
  width: laid.turned ? kind.length : kind.width,
});

/** Hands the keys out to what was laid, sheet by sheet, from the near corner on. */
function handOut(kinds: readonly Kind[], laid: readonly Laid[]): PlacedOn[] {
  return laid
    .toSorted((a, b) => a.x - b.x || a.y - b.y)
    .flatMap((one) => {
      const kind = kinds[one.type];
      const key = kind?.keys.shift();
      return kind === undefined || key === undefined ? [] : [placedOn(kind, one, key)];
    });
}

const commonMeasure = (a: number, b: number): number => (b === 0 ? a : commonMeasure(b, a % b));

/** Square nanometres in one square micrometre. */
const NM2_PER_UM2 = 1_000_000;

/**
 * The problem in units of the largest measure all sizes share, such as 1/64 in: areas are then small whole numbers, and
 * two plans that waste the same are seen to.
 */
function measured({ sheets, kerf, rule }: SheetNestingInput, types: readonly PieceType[]) {
  const sizes = [...sheets, ...types].flatMap((one) => [one.length, one.width]);
  const unit = sizes.reduce(commonMeasure, kerf) || 1;
  return {
    unit,
    sheets: sheets.map(({ length, width, offcut }) => ({
      length: length / unit,
      width: width / unit,
      offcut,
    })),
    types: types.map((type) => ({ ...type, length: type.length / unit, width: type.width / unit })),
    kerf: kerf / unit,
    rule: {
      leastSide: LEAST_SIDE / unit,
      leastArea: (rule.usefulArea / unit / unit) * NM2_PER_UM2,
    },
  };
}

function layOut(input: SheetNestingInput, types: readonly PieceType[]) {
  const { unit, ...problem } = measured(input, types);
  const quick = quickSheets(problem);
  const search = ExactSheets.for(problem.types, problem.kerf, problem.rule, input.budget ?? BUDGET);
  const exact = search?.run(problem.sheets, quick.score);
  const best = exact?.score === undefined ? quick.laid : exact.laid;
  return {
    laid: best.map((sheet) => sheet.map((one) => ({ ...one, x: one.x * unit, y: one.y * unit }))),
    exact: exact !== undefined,
  };
}

/** Finds the plan. Deterministic: the same input gives the same answer. */
export function nestSheets(input: SheetNestingInput): SheetNesting {
  const kinds = kindsOf(input.pieces);
  const types = kinds.map(({ keys, ...kind }) => ({ ...kind, count: keys.length }));
  const { laid, exact } = layOut(input, types);
  const sheets = input.sheets.flatMap((sheet, at): NestedSheet[] => {
    const pieces = handOut(kinds, laid[at] ?? []);
    if (pieces.length === 0) return [];
    const apart = takeApart(sheet, pieces, input.kerf, input.rule);
    if (apart === undefined) throw new Error('A sheet plan cannot be cut as it lies');
    return [{ id: sheet.id, pieces, ...apart }];
  });
  const placed = new Set(sheets.flatMap((sheet) => sheet.pieces.map((piece) => piece.key)));
  return {
    sheets,
    unplaced: input.pieces.filter((piece) => !placed.has(piece.key)).map((piece) => piece.key),
    waste: sheets.reduce((so, sheet) => so + sheet.waste, 0),
    exact,
  };
}

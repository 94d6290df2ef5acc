/**
 * Which bars and offcuts to cut for a list of blanks: a cutting stock problem with few bars, solved by branch and bound.
 * In this order: as many blanks as can be had, least waste (kerf and short ends below the least useful remnant), fewest
 * bars begun, offcuts before whole bars, older before younger.
 */
import { BarSearch, type BarType, type Pattern } from './nesting-bars-search.ts';

/** A bar or offcut as it lies on the rack; lengths in nanometre. */
export interface NestBar {
  readonly id: string;
  readonly length: number;
  /** Begun before: used up before a whole bar is. */
  readonly offcut: boolean;
}

/** A blank that is wanted. */
export interface NestBlank {
  readonly key: string;
  readonly length: number;
}

/** A plan of bars; lengths in nanometre. */
export interface BarNesting {
  /** The bars to cut, and which blanks from each, longest first. */
  readonly bars: readonly { readonly id: string; readonly keys: readonly string[] }[];
  /** Keys of the blanks no bar has room for. */
  readonly unplaced: readonly string[];
  /** Kerf and short ends of all bars cut. */
  readonly waste: number;
  /** True: the search ended by itself, so no other way is better. False: it ran out of steps. */
  readonly exact: boolean;
}

export interface BarNestingInput {
  /** Oldest first. */
  readonly bars: readonly NestBar[];
  readonly blanks: readonly NestBlank[];
  readonly kerf: number;
  readonly usefulRemnant: number;
  /** Steps the search may take; counted, not timed, so that the same rack gives the same plan. */
  readonly budget?: number;
}

/** About a second of work on a slow machine. */
const BUDGET = 1_000_000;

/** Blanks of one length, longest first, with the keys still to hand out. */
const typesOf = (blanks: readonly NestBlank[]): { length: number; keys: string[] }[] => {
  const byLength = new Map<number, string[]>();
  for (const { key, length } of blanks) byLength.set(length, [...(byLength.get(length) ?? []), key]);
  return [...byLength].map(([length, keys]) => ({ length, keys })).sort((a, b) => b.length - a.length);
};

/** Bars of the same length and kind stand together in the search, each remembering its place in the order to prefer. */
const searchOrder = (bars: readonly NestBar[]): (NestBar & { readonly rank: number })[] => {
  const ranked = [...bars]
    .sort((a, b) => Number(b.offcut) - Number(a.offcut))
    .map((bar, rank) => ({ ...bar, rank }));
  const firstRank = new Map<string, number>();
  const group = (bar: NestBar): string => `${String(bar.offcut)} ${String(bar.length)}`;
  for (const bar of ranked) if (!firstRank.has(group(bar))) firstRank.set(group(bar), bar.rank);
  const place = (bar: NestBar): number => firstRank.get(group(bar)) ?? 0;
  return ranked.sort((a, b) => place(a) - place(b) || a.rank - b.rank);
};

const handOut = (types: readonly { keys: string[] }[], pattern: Pattern): string[] =>
  pattern.flatMap((count, at) => types[at]?.keys.splice(0, count) ?? []);

/** Finds the plan. Deterministic: the same input gives the same answer. */
export const nestBars = (input: BarNestingInput): BarNesting => {
  const { kerf, usefulRemnant } = input;
  const longest = Math.max(0, ...input.bars.map((bar) => bar.length));
  const fitting = input.blanks.filter((blank) => blank.length <= longest);
  const types = typesOf(fitting);
  const bars = searchOrder(input.bars.filter((bar) => bar.length > 0));
  const wanted: readonly BarType[] = types.map(({ length, keys }) => ({ length, count: keys.length }));
  const found = new BarSearch({
    bars,
    types: wanted,
    kerf,
    usefulRemnant,
    budget: input.budget ?? BUDGET,
  }).run();
  const cut = found.patterns.flatMap((pattern, at) => {
    const bar = bars[at];
    return bar === undefined || pattern.every((count) => count === 0)
      ? []
      : [{ id: bar.id, rank: bar.rank, keys: handOut(types, pattern) }];
  });
  const placed = new Set(cut.flatMap((bar) => bar.keys));
  return {
    bars: cut.sort((a, b) => a.rank - b.rank).map(({ id, keys }) => ({ id, keys })),
    unplaced: input.blanks.filter((blank) => !placed.has(blank.key)).map((blank) => blank.key),
    waste: found.waste,
    exact: found.exact,
  };
};

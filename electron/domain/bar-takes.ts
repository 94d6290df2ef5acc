/** What blanks of several lengths take off one bar: the rule of `cutting.ts` by length, for a plan that mixes lengths. */
import { allocate, sum } from './integers.ts';

/** What is left of a bar after a cut, before anybody asks what it is worth. */
export interface BarEnd {
  /** Length that goes back on the rack; zero when what is behind the last cut is too short to be of use. */
  readonly left: number;
  /** Kerf and short end: metal that becomes nobody's blank and no useful remnant. */
  readonly waste: number;
}

/** Length that these blanks need: the last cut is needed only when something is left behind it. */
export const lengthOfCut = (lengths: readonly number[], kerf: number): number =>
  sum(lengths) + Math.max(0, lengths.length - 1) * kerf;

/**
 * What is left of a bar once these blanks are cut from it. All lengths in nanometre; the blanks must fit.
 * @param usefulRemnant shorter than this is no use for another knife
 */
export const endOfBar = (
  barLeft: number,
  lengths: readonly number[],
  kerf: number,
  usefulRemnant: number,
): BarEnd => {
  const net = sum(lengths);
  const behind = barLeft - net - lengths.length * kerf;
  const left = behind > 0 && behind >= usefulRemnant ? behind : 0;
  return { left, waste: barLeft - net - left };
};

/**
 * Length each blank draws in the books: itself and its kerf while a useful remnant stays, else the whole bar shared by
 * the same key, so that the short end rests in the blanks. The takes and `left` add up to the bar exactly.
 */
export const takesOfBar = (
  barLeft: number,
  lengths: readonly number[],
  kerf: number,
  usefulRemnant: number,
): BarEnd & { readonly takes: readonly number[] } => {
  const end = endOfBar(barLeft, lengths, kerf, usefulRemnant);
  const each = lengths.map((length) => length + kerf);
  return { ...end, takes: end.left > 0 ? each : allocate(barLeft, each) };
};

/**
 * Quantiles of some figures: type 7 of Hyndman and Fan (1996), what spreadsheets and most programs mean by default.
 * Plain floating point; nothing here is money.
 */

/**
 * The figure below which a share of the figures lies, between two neighbours in proportion.
 * @param ordered rising; at least one
 * @param share 0 to 1
 */
const quantileOf = (ordered: readonly number[], share: number): number => {
  const at = (ordered.length - 1) * Math.min(1, Math.max(0, share));
  const low = Math.floor(at);
  const lower = ordered[low] ?? Number.NaN;
  const upper = ordered[low + 1] ?? lower;
  return lower + (at - low) * (upper - lower);
};

/** Several quantiles of figures in any order. */
export const quantilesOf = (values: readonly number[], shares: readonly number[]): number[] => {
  const ordered = values.toSorted((a, b) => a - b);
  return shares.map((share) => quantileOf(ordered, share));
};

/** How measured figures lie: the middle, the spread, the ends. Plain floating point; nothing here is money. */

/** Summary of some figures. */
export interface Spread {
  readonly n: number;
  readonly mean: number;
  readonly median: number;
  /** Sample standard deviation (divided by n − 1); null below two figures. */
  readonly sd: number | null;
  readonly least: number;
  readonly most: number;
}

/** Fewer figures than this say nothing about the next one. Common practice, no source. */
export const TOO_FEW = 3;

const meanOf = (values: readonly number[]): number =>
  values.reduce((so, value) => so + value, 0) / values.length;

const medianOf = (ordered: readonly number[]): number => {
  const half = Math.floor(ordered.length / 2);
  const upper = ordered[half] ?? 0;
  return ordered.length % 2 === 1 ? upper : ((ordered[half - 1] ?? 0) + upper) / 2;
};

/** Two passes: the mean first, so that large figures close together keep their spread. */
const sdOf = (values: readonly number[], mean: number): number | null =>
  values.length < 2
    ? null
    : Math.sqrt(values.reduce((so, value) => so + (value - mean) ** 2, 0) / (values.length - 1));

/** Summary of some figures; null for none. */
export const spreadOf = (values: readonly number[]): Spread | null => {
  if (values.length === 0) return null;
  const ordered = values.toSorted((a, b) => a - b);
  const mean = meanOf(values);
  return {
    n: values.length,
    mean,
    median: medianOf(ordered),
    sd: sdOf(values, mean),
    least: ordered[0] ?? 0,
    most: ordered.at(-1) ?? 0,
  };
};

/** Mean and spread of readings in whole units, each rounded to the unit. */
export interface RoundedSpread {
  readonly n: number;
  readonly mean: number;
  /** Sample standard deviation; null for one reading. */
  readonly sd: number | null;
}

/** Mean and spread of whole-number readings such as milli-degrees, rounded to the unit; null for none. */
export const roundedSpreadOf = (values: readonly number[]): RoundedSpread | null => {
  const spread = spreadOf(values);
  if (spread === null) return null;
  const { n, mean, sd } = spread;
  return { n, mean: Math.round(mean), sd: sd === null ? null : Math.round(sd) };
};

/** A price by size, from what own knives fetched: the line nobody's odd sale can bend (Theil 1950, Sen 1968). */
import { type Line, medianSlope } from './regression.ts';

/** A knife that was sold. */
export interface SizedPrice {
  readonly sizeMm: number;
  readonly priceMinor: number;
}

export interface PriceLine {
  readonly line: Line;
  readonly sizes: number;
  readonly leastMm: number;
  readonly mostMm: number;
}

/** Fewer sizes than this make no line. Common practice, no source. */
export const SIZES_FOR_LINE = 3;

/** How many different sizes there are. */
export const sizesIn = (sold: readonly SizedPrice[]): number => new Set(sold.map((one) => one.sizeMm)).size;

/** The line through own prices; undefined below three different sizes, or where they fall as knives grow. */
export const priceLine = (sold: readonly SizedPrice[]): PriceLine | undefined => {
  const sizes = sizesIn(sold);
  const line = medianSlope(sold.map(({ sizeMm, priceMinor }) => ({ x: sizeMm, y: priceMinor })));
  if (sizes < SIZES_FOR_LINE || line === undefined || line.slope < 0) return undefined;
  const all = sold.map((one) => one.sizeMm);
  return { line, sizes, leastMm: Math.min(...all), mostMm: Math.max(...all) };
};

/** Price at a size, minor unit. */
export const priceAt = ({ line }: PriceLine, sizeMm: number): number =>
  Math.round(line.intercept + line.slope * sizeMm);

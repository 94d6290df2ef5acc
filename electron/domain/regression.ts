/** A straight line through points: by least squares, and robustly by the median of all slopes (Theil 1950, Sen 1968). */
import { quantilesOf } from './quantiles.ts';

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Line {
  readonly slope: number;
  readonly intercept: number;
}

/** A least-squares line with how well it holds. */
export interface FittedLine extends Line {
  readonly n: number;
  /** Standard errors; null below three points. */
  readonly slopeError: number | null;
  readonly interceptError: number | null;
  /** Share of the spread of y the line explains. */
  readonly rSquared: number;
  readonly residualSquares: number;
}

const mean = (values: readonly number[]): number =>
  values.reduce((so, value) => so + value, 0) / values.length;

/** Least-squares line; undefined below two points or where all x are the same. */
export const leastSquares = (points: readonly Point[]): FittedLine | undefined => {
  const n = points.length;
  const [mx, my] = [mean(points.map(({ x }) => x)), mean(points.map(({ y }) => y))];
  const sxx = points.reduce((so, { x }) => so + (x - mx) ** 2, 0);
  if (n < 2 || sxx === 0) return undefined;
  const slope = points.reduce((so, { x, y }) => so + (x - mx) * (y - my), 0) / sxx;
  const intercept = my - slope * mx;
  const residualSquares = points.reduce((so, { x, y }) => so + (y - intercept - slope * x) ** 2, 0);
  const syy = points.reduce((so, { y }) => so + (y - my) ** 2, 0);
  const variance = n > 2 ? residualSquares / (n - 2) : null;
  return {
    n,
    slope,
    intercept,
    slopeError: variance === null ? null : Math.sqrt(variance / sxx),
    interceptError: variance === null ? null : Math.sqrt(variance * (1 / n + mx ** 2 / sxx)),
    rSquared: syy === 0 ? 1 : 1 - residualSquares / syy,
    residualSquares,
  };
};

/** Median of the slopes of all pairs, and median y less slope times median x; undefined where no two x differ. */
export const medianSlope = (points: readonly Point[]): Line | undefined => {
  const slopes = points.flatMap((a, at) =>
    points.slice(at + 1).flatMap((b) => (a.x === b.x ? [] : [(b.y - a.y) / (b.x - a.x)])),
  );
  if (slopes.length === 0) return undefined;
  const [slope = 0] = quantilesOf(slopes, [0.5]);
  const [mx = 0] = quantilesOf(
    points.map(({ x }) => x),
    [0.5],
  );
  const [my = 0] = quantilesOf(
    points.map(({ y }) => y),
    [0.5],
  );
  return { slope, intercept: my - slope * mx };
};

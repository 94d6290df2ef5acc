/** A guess of three points: least, most likely, most; the triangular distribution over them. */

export interface ThreePoints {
  readonly least: number;
  readonly likely: number;
  readonly most: number;
}

/** Mean of the distribution. */
export const triangularMean = ({ least, likely, most }: ThreePoints): number => (least + likely + most) / 3;

/** Standard deviation of the distribution. */
export const triangularSd = ({ least, likely, most }: ThreePoints): number =>
  Math.sqrt((least ** 2 + likely ** 2 + most ** 2 - least * likely - least * most - likely * most) / 18);

/** The figure below which a share of the distribution lies. @param share 0 to 1 */
export function triangularQuantile({ least, likely, most }: ThreePoints, share: number): number {
  const width = most - least;
  if (width === 0) return likely;
  return share < (likely - least) / width
    ? least + Math.sqrt(share * width * (likely - least))
    : most - Math.sqrt((1 - share) * width * (most - likely));
}

/** So many figures that lie like the distribution, one for each equal part of it. */
export const triangularFigures = (guess: ThreePoints, count: number): number[] =>
  Array.from({ length: count }, (_, at) => triangularQuantile(guess, (at + 0.5) / count));

/**
 * Manufacturers' Standard Gauge for uncoated steel sheet: the gauge is a weight per area, and the thickness follows from
 * 41.82 pounds per square foot per inch. Thicknesses as published; the weights are the defining ones (from memory,
 * reproduced by inch × 41.82).
 */
export interface GaugeRow {
  readonly gauge: number;
  /** Ten-thousandths of an inch. */
  readonly inchTenThousandths: number;
  /** Ten-thousandths of a pound per square foot. */
  readonly lbPerSqFtTenThousandths: number;
}

const ROWS: readonly (readonly [number, number, number])[] = [
  [3, 2391, 100_000],
  [4, 2242, 93_750],
  [5, 2092, 87_500],
  [6, 1943, 81_250],
  [7, 1793, 75_000],
  [8, 1644, 68_750],
  [9, 1495, 62_500],
  [10, 1345, 56_250],
  [11, 1196, 50_000],
  [12, 1046, 43_750],
  [13, 897, 37_500],
  [14, 747, 31_250],
  [15, 673, 28_125],
  [16, 598, 25_000],
  [17, 538, 22_500],
  [18, 478, 20_000],
  [19, 418, 17_500],
  [20, 359, 15_000],
  [22, 299, 12_500],
  [24, 239, 10_000],
];

/** The gauges in use, thickest first. */
export const gauges: readonly GaugeRow[] = ROWS.map(
  ([gauge, inchTenThousandths, lbPerSqFtTenThousandths]) => ({
    gauge,
    inchTenThousandths,
    lbPerSqFtTenThousandths,
  }),
);

/** Nanometres in a ten-thousandth of an inch. */
const STEP = 2540;

/** Thickness of a gauge in nanometres; undefined for one not in the table. */
export const gaugeThickness = (gauge: number): number | undefined => {
  const found = gauges.find((entry) => entry.gauge === gauge);
  return found === undefined ? undefined : found.inchTenThousandths * STEP;
};

/** The gauge nearest to a thickness, the heavier one when two are equally near; for a hint, never for a label. */
export const nearestGauge = (thicknessNm: number): GaugeRow =>
  gauges.reduce((best, entry) =>
    Math.abs(entry.inchTenThousandths * STEP - thicknessNm) <
    Math.abs(best.inchTenThousandths * STEP - thicknessNm)
      ? entry
      : best,
  );

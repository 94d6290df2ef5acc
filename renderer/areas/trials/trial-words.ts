/** Words and figures of a trial. */
import type { TrialKnifeRow, TrialMeasure, TrialRow } from '../../../electron/api/trials.ts';
import { percent } from '../../lib/format.ts';

const PPM_OF_PERCENT = 10_000;

/** Minutes to a tenth, as the finding writes them. */
export const tenths = (minutes: number): string => `${minutes.toFixed(1)} min`;

/** Minutes in a chart: a tenth only where there is one. */
export const about = (minutes: number): string => `${String(minutes)} min`;

/** A share of the minutes in whole percent, in words: `27 % less`. */
export const savingText = (ppm: number): string => {
  const whole = Math.round(Math.abs(ppm) / PPM_OF_PERCENT);
  if (whole === 0) return 'the same';
  return `${String(whole)} % ${ppm > 0 ? 'less' : 'more'}`;
};

/** A saving as a table shows it; nothing while there is none. */
export const savingOrNone = (ppm: number | null): string => (ppm === null ? '' : savingText(ppm));

/** Which side a knife stands on. */
export const sideOf = (trial: TrialRow, way: TrialKnifeRow['way']): string =>
  way === 0 ? 'left out' : (trial.ways.find((one) => one.position === way)?.name ?? '');

const factorWords = {
  table: 'by the family’s practice table',
  pace: 'by its own other stages',
  none: 'not known',
} as const;

/** How practice lengthened a knife, and where that is known from. */
export const factorText = (row: TrialKnifeRow): string =>
  row.factorFrom === 'none'
    ? factorWords.none
    : `${percent(row.factorPpm, 1)} of usual, ${factorWords[row.factorFrom]}`;

/** A chance in the way it is read: never 0. */
const chanceText = (p: number): string => (p < 0.001 ? 'below 0.001' : p.toFixed(3));

/** What Welch's test says of the difference, in words. */
export const testText = (measure: TrialMeasure): string => {
  const { welch } = measure;
  if (welch === null) return measure.noWelch;
  const side = welch.low > 0 || welch.high < 0 ? 'More than chance' : 'May be chance';
  return `${side}: the true difference lies between ${tenths(welch.low)} and ${tenths(welch.high)} with 95 % confidence (Welch’s t ${welch.t.toFixed(2)}, ${welch.df.toFixed(1)} degrees of freedom, p ${chanceText(welch.p)}).`;
};

/** The interval of the saving from drawing knives anew. */
export const drawnText = (measure: TrialMeasure): string =>
  `Drawing the knives anew 4000 times, the saving lies between ${String(Math.round(measure.drawnLowPpm / PPM_OF_PERCENT))} % and ${String(Math.round(measure.drawnHighPpm / PPM_OF_PERCENT))} % in 95 of 100.`;

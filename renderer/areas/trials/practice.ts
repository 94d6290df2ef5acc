/** Reading and writing a table of practice as one line of percents. */

const PPM_OF_PERCENT = 10_000;
const LEAST = 10;
const MOST = 1000;

/** Factors as a line of percents: `115, 110, 106`. */
export const factorsText = (ppm: readonly number[]): string =>
  ppm.map((one) => String(one / PPM_OF_PERCENT)).join(', ');

/** Reads a line of percents; nothing when a part is no percent between 10 and 1000. An empty line is an empty table. */
export const factorsFrom = (text: string): number[] | undefined => {
  const parts = text
    .split(/[,;\s]+/)
    .map((part) => part.replace('%', ''))
    .filter((part) => part !== '');
  const values = parts.map(Number);
  if (values.some((value) => !(value >= LEAST && value <= MOST))) return undefined;
  return values.map((value) => Math.round(value * PPM_OF_PERCENT));
};

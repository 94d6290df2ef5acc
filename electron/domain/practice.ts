/**
 * How much longer or shorter a knife takes for its place in the order of making, so that practice can be divided out.
 * Two sources: the maker's own table for a family, or the pace of the other stages of the very same knife against the
 * minutes usual for them. Either is a factor: 1.15 says 15 % longer than usual.
 */

/** What a knife tells of its pace outside the stage looked at. */
export interface Pace {
  /** Minutes booked on stages that practice touches, the one looked at left out. */
  readonly minutes: number;
  /** Minutes usual for the same stages. */
  readonly usual: number;
}

/** Factor from a table by place; past its end the last one holds. Undefined for an empty table. */
export const factorFromTable = (table: readonly number[], n: number): number | undefined =>
  table.length === 0 ? undefined : table[Math.min(Math.max(1, n), table.length) - 1];

/** Factor from the pace of the other stages. Undefined where none of them is both usual and booked. */
export const factorFromPace = ({ minutes, usual }: Pace): number | undefined =>
  minutes > 0 && usual > 0 ? minutes / usual : undefined;

/**
 * What a knife would take at another place in the order of making: the work practice touches is divided by its own
 * factor and multiplied by the other one; the work around it stays.
 */
export const atPlace = (
  knife: { readonly touched: number; readonly around: number; readonly factor: number },
  factor: number,
): number => knife.around + (knife.touched / knife.factor) * factor;

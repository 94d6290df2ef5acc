/** Where an axis is marked: few round steps that hold every value. */

const steps = [1, 2, 2.5, 5, 10] as const;

/**
 * Round marks from below the least to above the greatest value, nought among them.
 * @param most how many steps at most above nought
 */
export function axisMarks(values: readonly number[], most = 5): readonly number[] {
  const high = Math.max(0, ...values);
  const low = Math.min(0, ...values);
  const span = high - low;
  if (span === 0) return [0, 1];
  const rough = span / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = (steps.find((each) => each * power >= rough) ?? 10) * power;
  const marks: number[] = [];
  for (let at = Math.floor(low / step); at <= Math.ceil(high / step); at += 1) marks.push(at * step);
  return marks;
}

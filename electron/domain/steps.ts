/** Long reckoning in short steps, between which whoever runs it may let other work in. */

/** Work that stops for a moment now and then. */
export type Steps<T> = Generator<undefined, T>;

/** Runs the work in one go. */
export function atOnce<T>(steps: Steps<T>): T {
  for (let step = steps.next(); ; step = steps.next()) if (step.done === true) return step.value;
}

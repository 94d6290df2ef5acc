/**
 * What pattern-welding usually loses: common practice among makers who weigh, no published source. A loss beyond it
 * is worth a remark and never an error: an oxidising fire, too much flux or a bad weld all show here first.
 */

/** A usual range of loss, parts per million of the weight before. */
export interface UsualLoss {
  readonly lowPpm: number;
  readonly highPpm: number;
}

const percent = (low: number, high: number): UsualLoss => ({ lowPpm: low * 10_000, highPpm: high * 10_000 });

/** By kind of step. Cutting to restack is told with the cleaning and cropping that go with it. */
const byStep: Readonly<Record<string, UsualLoss>> = {
  weld: percent(3, 15),
  draw: percent(3, 15),
  clean: percent(3, 6),
  crop: percent(4, 10),
  cut: percent(3, 16),
  grind: percent(3, 6),
};

/** The usual loss of a kind of step; undefined where nothing is usual. */
export const usualStepLoss = (kind: string): UsualLoss | undefined => byStep[kind];

/** The usual loss from the first stack to good bar. @param restacks how often it was cut and stacked again */
export const usualBilletLoss = (restacks: number): UsualLoss | undefined => {
  if (restacks <= 0) return undefined;
  if (restacks === 1) return percent(18, 28);
  return restacks === 2 ? percent(25, 38) : percent(35, 60);
};

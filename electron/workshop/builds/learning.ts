/** Use-case: how the hours of a model fell with practice. */
import type { Learning } from '../../api/builds.ts';
import { missing } from '../../api/errors.ts';
import { type Curve, ENOUGH_TO_FIT, fitCurve, unitTime } from '../../domain/learning.ts';
import { roundHalfAway } from '../../domain/integers.ts';
import { knivesInOrder } from '../../storage/queries/learning.ts';
import { modelRow } from '../../storage/queries/models.ts';
import { begunKnives } from '../../storage/queries/trials.ts';
import type { HandlerFor } from '../handlers.ts';

const PPM = 1_000_000;
const inPercent = (ratePpm: number): string => `${String(roundHalfAway(ratePpm, 10_000))} %`;

function sentenceOf(of: string, count: number, curve: Curve | undefined): string {
  if (curve === undefined) {
    return `Too few to say: ${String(count)} finished with hours, and a curve needs ${String(ENOUGH_TO_FIT)}.`;
  }
  const ratePpm = Math.round(curve.rate * PPM);
  if (ratePpm >= PPM) return `${of}: the hours do not fall with practice so far.`;
  return `${of}: each doubling of the count takes ${inPercent(ratePpm)} of the hours before. Models and ways of working are mixed here, so this is a hint, not proof.`;
}

/**
 * Finished knives of the model's family in the order they were begun, and the curve through their hours. A knife's place
 * counts those too that were lost or still are on the bench, as quotes and trials do: the hand learned at them.
 */
export const learning: HandlerFor<'builds.learning'> = (ctx, input): Learning => {
  const model = modelRow(ctx.db, input.modelId);
  if (model === undefined) throw missing('This model does not exist any more. Go back to the list.');
  const of = model.family === '' ? model.name : model.family;
  const rows = knivesInOrder(ctx.db, model);
  const places = new Map(begunKnives(ctx.db, model).map((knife, at) => [knife.id, at + 1]));
  const placed = rows.map((row) => ({ ...row, n: places.get(row.id) ?? 1 }));
  const fitted = fitCurve(placed);
  const curve = fitted.ok ? fitted.value : undefined;
  const at = (n: number): number | null => (curve === undefined ? null : Math.round(unitTime(curve, n)));
  return {
    of,
    knives: placed.map((row) => ({ ...row, curveMinutes: at(row.n) })),
    ratePpm: curve === undefined ? null : Math.round(curve.rate * PPM),
    nextMinutes: at(places.size + 1),
    sentence: sentenceOf(of, rows.length, curve),
  };
};

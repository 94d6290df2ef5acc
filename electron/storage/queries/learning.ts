/** Reading knives in the order they were made, for what practice did to their hours. */
import type { ReadDb } from '../db.ts';

/** Finished knives of a model's family, or of the model where it has none, in the order they were begun. */
export function knivesInOrder(db: ReadDb, model: { readonly id: string; readonly family: string }) {
  const query = db.q
    .selectFrom('builds')
    .innerJoin('models', 'models.id', 'builds.model_id')
    .select(['builds.id', 'builds.serial', 'models.code as modelCode', 'builds.minutes'])
    .where('builds.finished_on', 'is not', null)
    .where('builds.minutes', '>', 0)
    .orderBy('builds.started_on')
    .orderBy('builds.number');
  return db.all(
    model.family === ''
      ? query.where('builds.model_id', '=', model.id)
      : query.where('models.family', '=', model.family),
  );
}

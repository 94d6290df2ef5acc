/** What is wished for, filled up from the model where nothing else was said. */
import { invalid } from '../../api/errors.ts';
import type { QuoteAsked } from '../../api/quotes.ts';
import type { Likeness } from '../../domain/nearness.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelRow } from '../../storage/queries/models.ts';

export interface Wish {
  readonly model: NonNullable<ReturnType<typeof modelRow>>;
  readonly likeness: Likeness;
}

/** @throws FaultError for a model that is not in the books */
export function wishOf(db: ReadDb, asked: QuoteAsked): Wish {
  const model = modelRow(db, asked.modelId);
  if (model === undefined) throw invalid('This model is not in the books. Choose another.', 'modelId');
  return {
    model,
    likeness: {
      modelId: model.id,
      bladeNm: asked.bladeNm ?? model.blade_nm,
      steel: asked.steel === '' ? model.steel : asked.steel,
      finish: asked.finish === '' ? model.finish : asked.finish,
      method: model.method,
    },
  };
}

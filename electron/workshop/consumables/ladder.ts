/** Use-cases: the ladder of a model's consumables, and the rung each stands on. */
import type { LadderRow } from '../../api/consumables.ts';
import { missing, refused } from '../../api/errors.ts';
import { mulDiv } from '../../domain/integers.ts';
import { effectiveRung, type Rung } from '../../domain/ladder.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type ItemListRow, itemRows } from '../../storage/queries/items.ts';
import { modelFlatRows, type ModelPartRow, modelPartRows } from '../../storage/queries/models.ts';
import { needModel } from '../builds/models.ts';
import type { HandlerFor } from '../handlers.ts';
import { describer } from '../stock/views.ts';
import { needWorkshop } from '../workshop/need.ts';
import { measureOf, measureWords } from './measure.ts';

type Step = LadderRow['steps'][number];

const step = (rung: Rung, words: string, known: Partial<Omit<Step, 'rung' | 'words'>> = {}): Step => ({
  rung,
  words,
  costMicro: null,
  qty: null,
  n: null,
  sdQty: null,
  ...known,
});

/** At the last price paid; null for what was never bought. */
const costAt = (item: ItemListRow, qty: number): number | null =>
  item.bought_qty === null || item.bought_value_micro === null
    ? null
    : mulDiv(item.bought_value_micro, qty, item.bought_qty);

const openingWords = (item: ItemListRow): string =>
  item.consumed_by === 'opening'
    ? 'Each knife carries its share of what was opened for its batch.'
    : 'Each knife carries what is taken for it by hand; nothing comes by itself.';

function stepsOfPart(db: ReadDb, part: ModelPartRow, item: ItemListRow): Step[] {
  const one = measureOf(db, part.model_id, part.item_id);
  const known = one === null ? {} : { n: one.n, sdQty: one.sd === null ? null : Math.round(one.sd) };
  const mean = one?.enough === true ? { qty: one.qty, costMicro: costAt(item, one.qty) } : {};
  return [
    step(1, 'A flat amount, entered on the knife by hand.'),
    step(2, `${describer(item)(part.qty)} for each knife, as the model says.`, {
      qty: part.qty,
      costMicro: costAt(item, part.qty),
    }),
    step(3, openingWords(item)),
    step(4, measureWords(item, one), { ...known, ...mean }),
  ];
}

const nothingBehind = 'No stock stands behind it, so it cannot be measured.';

/** The ladder of every consumable of a model. @throws FaultError `missing` for an unknown model */
function ladderOf(db: ReadDb, modelId: string): LadderRow[] {
  needModel(db, modelId);
  const items = new Map(itemRows(db, { includeArchived: true }).map((item) => [item.id, item]));
  const parts = modelPartRows(db, modelId)
    .filter((part) => part.use_as === 'consumable')
    .flatMap((part): LadderRow[] => {
      const item = items.get(part.item_id);
      if (item === undefined) return [];
      const rung = effectiveRung(item.consumed_by, part.rung);
      const head = { partId: part.id, flatId: null, label: part.label, itemId: item.id };
      return [{ ...head, rung, steps: stepsOfPart(db, part, item) }];
    });
  const flats = modelFlatRows(db, modelId)
    .filter((flat) => flat.use_as === 'consumable')
    .map((flat): LadderRow => {
      const usual = step(2, 'A usual amount of money for each knife of this model.', {
        costMicro: flat.amount_micro,
      });
      const steps = [
        step(1, 'A flat amount, entered on the knife by hand.'),
        usual,
        step(3, nothingBehind),
        step(4, nothingBehind),
      ];
      return { partId: null, flatId: flat.id, label: flat.label, itemId: null, rung: 2, steps };
    });
  return [...parts, ...flats];
}

/** The ladder of a model's consumables. */
export const ladder: HandlerFor<'consumables.ladder'> = (ctx, { modelId }) => ladderOf(ctx.db, modelId);

/** Sets the rung a usual consumable stands on from now on; what is booked already stays. */
export const setRung: HandlerFor<'consumables.setRung'> = {
  run(ctx, { modelId, partId, rung }) {
    needWorkshop(ctx.db);
    const part = modelPartRows(ctx.db, modelId).find((row) => row.id === partId);
    if (part === undefined) throw missing('This part is not on the model any more. Reload the model.');
    if (part.use_as !== 'consumable') {
      throw refused(
        `${part.label} is no consumable of this model; only those stand on the ladder.`,
        'partId',
      );
    }
    if (part.consumed_by === 'opening' && rung !== 3) {
      // Drawn by use as well, the same belt would leave the rack twice.
      throw refused(
        `${part.item_name} falls when a new one is opened, and its knives share that. To charge by use, change the item so that its stock falls by what knives take.`,
        'rung',
      );
    }
    ctx.db.run(ctx.db.q.updateTable('model_parts').set({ rung }).where('id', '=', partId));
    return ladderOf(ctx.db, modelId);
  },
};

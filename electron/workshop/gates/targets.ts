/** Use-cases: what the gates ask for, by model and steel. */
import type { GateTarget } from '../../api/gates.ts';
import { invalid, missing } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import { aboutGate } from '../../domain/gates.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  dropTargetRow,
  insertTarget,
  targetFor,
  targetRow,
  targetRows,
  updateTarget,
} from '../../storage/queries/gates.ts';
import { itemRow } from '../../storage/queries/items.ts';
import { modelRow } from '../../storage/queries/models.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { toTarget } from './views.ts';

const listed = (db: ReadDb, modelId?: string): GateTarget[] => targetRows(db, modelId).map(toTarget);

/** Every target, or those that can matter to one model. */
export const targets: HandlerFor<'gates.targets'> = (ctx, input) => listed(ctx.db, input.modelId);

/** @throws FaultError when the numbers contradict each other or the gate has none */
function checkNumbers({ low, high, target, measure }: Parsed<'gates.saveTarget'>): void {
  if (low !== null && high !== null && low > high)
    throw invalid('The least is above the most. Change one of them.', 'low');
  if (target !== null && ((low !== null && target < low) || (high !== null && target > high)))
    throw invalid('The target lies outside its own bounds. Change one of them.', 'target');
  if (aboutGate(measure).unit === null && (low !== null || high !== null || target !== null))
    throw invalid('This gate is passed or not; it has no numbers. Leave them empty.', 'target');
}

function check(db: ReadDb, input: Parsed<'gates.saveTarget'>): void {
  if (input.modelId !== null && modelRow(db, input.modelId) === undefined)
    throw invalid('This model does not exist any more. Choose another one.', 'modelId');
  if (input.steelItemId !== null && itemRow(db, input.steelItemId) === undefined)
    throw invalid('This steel does not exist any more. Choose another one.', 'steelItemId');
  checkNumbers(input);
}

/** Saves one; the same measure for the same model and steel is written over. */
export const saveTarget: HandlerFor<'gates.saveTarget'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    check(ctx.db, input);
    const { id, measure, modelId, steelItemId, target, low, high, note } = input;
    const same = targetFor(ctx.db, { measure, modelId, steelItemId });
    if (id !== undefined && targetRow(ctx.db, id) === undefined)
      throw missing('This target does not exist any more. Go back and choose again.');
    if (same !== undefined && id !== undefined && same.id !== id)
      throw invalid('There is a target for this model and steel already. Change that one.', 'measure');
    const row = { measure, model_id: modelId, steel_item_id: steelItemId, target, low, high, note };
    const existing = id ?? same?.id;
    if (existing === undefined) insertTarget(ctx.db, { id: ctx.newId(), ...row });
    else updateTarget(ctx.db, { id: existing, ...row });
    return listed(ctx.db);
  },
};

/** Takes one away; checks already made keep what was asked of them. */
export const dropTarget: HandlerFor<'gates.dropTarget'> = {
  run(ctx, input) {
    dropTargetRow(ctx.db, input.id);
    return listed(ctx.db);
  },
};

/** Use-case: save a model with its usual stages, parts and flat costs. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { itemRow } from '../../storage/queries/items.ts';
import {
  modelFlatRows,
  modelOptionRows,
  modelPartRows,
  modelWithCode,
} from '../../storage/queries/models.ts';
import { stageRows } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { needModel, readModel } from './models.ts';

type ModelInput = Parsed<'builds.saveModel'>;

function checkStages(db: ReadDb, input: ModelInput): void {
  const known = new Set(stageRows(db).map((stage) => stage.code));
  const seen = new Set<string>();
  for (const [at, { code }] of input.stages.entries()) {
    const field = `stages.${at}.code`;
    if (!known.has(code)) throw invalid(`There is no stage ${code}. Choose one from the list.`, field);
    if (seen.has(code)) throw invalid(`The stage ${code} is named twice. Put its minutes together.`, field);
    seen.add(code);
  }
  for (const [at, { stageCode }] of input.parts.entries()) {
    if (stageCode !== null && !known.has(stageCode)) {
      throw invalid(`There is no stage ${stageCode}. Choose one from the list.`, `parts.${at}.stageCode`);
    }
  }
}

function checkModel(db: ReadDb, input: ModelInput): void {
  if (input.id !== undefined) needModel(db, input.id);
  const same = modelWithCode(db, input.code);
  if (same !== undefined && same.id !== input.id) {
    throw refused(`There is already a model with the code ${input.code}. Choose another code.`, 'code');
  }
  checkStages(db, input);
  for (const [at, { itemId }] of input.parts.entries()) {
    if (itemRow(db, itemId) === undefined) {
      throw invalid('This item does not exist any more. Choose another one.', `parts.${at}.itemId`);
    }
  }
}

/** Hands out the ids of rows that were there before, so that what was booked for them is still found. */
function keptIds(
  before: readonly (readonly [key: string, id: string])[],
  newId: () => string,
): (key: string) => string {
  const free = new Map<string, string[]>();
  for (const [key, id] of before) free.set(key, [...(free.get(key) ?? []), id]);
  return (key) => free.get(key)?.shift() ?? newId();
}

const keyOf = (...parts: readonly string[]): string => JSON.stringify(parts);

function replaceParts(ctx: CommandContext, modelId: string, input: ModelInput): void {
  const { q } = ctx.db;
  const rows = modelPartRows(ctx.db, modelId);
  const before = rows.map((row) => [keyOf(row.label, row.item_id), row.id] as const);
  const idFor = keptIds(before, () => ctx.newId());
  // Under an item that falls by openings every part shows the third rung; what was chosen before waits below it.
  const rungFor = (id: string, given: number): number => {
    const kept = rows.find((row) => row.id === id);
    return kept?.consumed_by === 'opening' ? kept.rung : given;
  };
  ctx.db.run(q.deleteFrom('model_parts').where('model_id', '=', modelId));
  for (const [position, part] of input.parts.entries()) {
    const { label, itemId, use, qty, perBar, stageCode } = part;
    const id = idFor(keyOf(label, itemId));
    const row = { id, model_id: modelId, position, label, item_id: itemId, rung: rungFor(id, part.rung) };
    ctx.db.run(
      q
        .insertInto('model_parts')
        .values({ ...row, use_as: use, qty, per_bar: perBar, stage_code: stageCode }),
    );
  }
}

function replaceFlats(ctx: CommandContext, modelId: string, input: ModelInput): void {
  const { q } = ctx.db;
  const before = modelFlatRows(ctx.db, modelId).map((row) => [keyOf(row.label, row.use_as), row.id] as const);
  const idFor = keptIds(before, () => ctx.newId());
  ctx.db.run(q.deleteFrom('model_flats').where('model_id', '=', modelId));
  for (const [position, { label, use, amountMicro }] of input.flats.entries()) {
    const row = { id: idFor(keyOf(label, use)), model_id: modelId, position, label };
    ctx.db.run(q.insertInto('model_flats').values({ ...row, use_as: use, amount_micro: amountMicro }));
  }
}

function replaceStages(ctx: CommandContext, modelId: string, input: ModelInput): void {
  const { q } = ctx.db;
  ctx.db.run(q.deleteFrom('model_stages').where('model_id', '=', modelId));
  const rows = input.stages.map(({ code, minutes }, position) => ({
    model_id: modelId,
    position,
    stage_code: code,
    minutes,
  }));
  if (rows.length > 0) ctx.db.run(q.insertInto('model_stages').values(rows));
}

/** Options not named any more are no longer offered; orders that chose them keep them. */
function replaceOptions(ctx: CommandContext, modelId: string, options: ModelInput['options']): void {
  if (options === undefined) return;
  const { q } = ctx.db;
  const before = modelOptionRows(ctx.db, modelId).map((row) => [keyOf(row.name), row.id] as const);
  const known = new Set(before.map(([, id]) => id));
  const idFor = keptIds(before, () => ctx.newId());
  ctx.db.run(q.updateTable('model_options').set({ archived: 1 }).where('model_id', '=', modelId));
  for (const [position, { name, priceMinor }] of options.entries()) {
    const id = idFor(keyOf(name));
    const row = { position, name, price_minor: priceMinor, archived: 0 };
    ctx.db.run(
      known.has(id)
        ? q.updateTable('model_options').set(row).where('id', '=', id)
        : q.insertInto('model_options').values({ id, model_id: modelId, ...row }),
    );
  }
}

/** Size, steel and finish where they were written. */
const bladeColumns = ({ bladeNm, steel, finish }: ModelInput) => ({
  ...(bladeNm === undefined ? {} : { blade_nm: bladeNm }),
  ...(steel === undefined ? {} : { steel }),
  ...(finish === undefined ? {} : { finish }),
});

/** Adds a model, or changes one. Knives already planned keep the stages they were planned with. */
export const saveModel: HandlerFor<'builds.saveModel'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    checkModel(ctx.db, input);
    const { q } = ctx.db;
    const id = input.id ?? ctx.newId();
    const { code, name, family, method, note } = input;
    const care = input.care === undefined ? {} : { care: input.care };
    const columns = {
      ...{ code, name, family, method, note, archived: Number(input.archived) },
      ...care,
      ...bladeColumns(input),
    };
    const statement =
      input.id === undefined
        ? q.insertInto('models').values({ id, ...columns })
        : q.updateTable('models').set(columns).where('id', '=', id);
    ctx.db.run(statement);
    replaceStages(ctx, id, input);
    replaceParts(ctx, id, input);
    replaceFlats(ctx, id, input);
    replaceOptions(ctx, id, input.options);
    return readModel(ctx.db, id, ctx.clock.today());
  },
};

/** Use-cases of Trials. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing } from '../../api/errors.ts';
import type { trialEndpoints, TrialRow } from '../../api/trials.ts';
import type { ReadDb } from '../../storage/db.ts';
import { modelRow } from '../../storage/queries/models.ts';
import {
  begunKnives,
  lastTrialNumber,
  listTrials,
  methodsOf,
  practiceOf,
  writePlace,
  writePractice,
  writeTrial,
} from '../../storage/queries/trials.ts';
import { stageRows } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import type { Handlers } from '../handlers.ts';
import { familyOf } from './gather.ts';
import { needTrial, trialOf, trialRow } from './views.ts';

function needModel(db: ReadDb, id: string) {
  const model = modelRow(db, id);
  if (model === undefined) throw invalid('This model does not exist any more. Choose another.', 'modelId');
  return model;
}

/** The seed follows from the number, so that the first trial of two workshops draws alike and nothing is left to the moment. */
const seedOf = (number: number): number => 7919 * number + 1;

function checkTrial(db: ReadDb, input: Parsed<'trials.save'>): void {
  needModel(db, input.modelId);
  if (!stageRows(db).some((stage) => stage.code === input.stageCode))
    throw invalid('This stage does not exist. Choose one of the workshop’s stages.', 'stageCode');
  if (input.first.method.toLowerCase() === input.second.method.toLowerCase())
    throw invalid('Both sides name the same way of working. Choose two that differ.', 'second.method');
  if (input.from !== null && input.until !== null && input.until < input.from)
    throw invalid('The trial ends before it begins. Change one of the days.', 'until');
}

/** Enters or changes a trial. */
function saveTrial(ctx: CommandContext, input: Parsed<'trials.save'>): TrialRow {
  checkTrial(ctx.db, input);
  const before = input.id === undefined ? undefined : needTrial(ctx.db, input.id);
  if (before !== undefined && before.model_id !== input.modelId)
    throw invalid(
      'A trial stays with its model: knives of two models cannot be compared. Begin another trial.',
      'modelId',
    );
  const number = before?.number ?? lastTrialNumber(ctx.db) + 1;
  const id = before?.id ?? ctx.newId();
  const row = {
    id,
    number,
    title: input.title,
    model_id: input.modelId,
    stage_code: input.stageCode,
    from_on: input.from,
    until_on: input.until,
    seed: before?.seed ?? seedOf(number),
    note: input.note,
    archived: input.archived ? 1 : 0,
  };
  writeTrial(ctx.db, before === undefined, row, [
    { position: 1, ...input.first },
    { position: 2, ...input.second },
  ]);
  return trialRow(ctx.db, needTrial(ctx.db, id));
}

function place(ctx: CommandContext, input: Parsed<'trials.place'>) {
  const trial = needTrial(ctx.db, input.trialId);
  const knife = begunKnives(ctx.db, { id: trial.model_id, family: trial.family }).find(
    (one) => one.id === input.buildId,
  );
  if (knife === undefined)
    throw missing('This knife was not begun, or is not in the books. Reload the trial.');
  if (knife.model_id !== trial.model_id)
    throw invalid(`${knife.serial} is another model. A trial compares knives of one model only.`, 'buildId');
  if (input.way !== null && input.reason === '')
    throw invalid('Say why, so that the trial can be judged later.', 'reason');
  writePlace(ctx.db, input, input.way === null ? null : { position: input.way, reason: input.reason });
  return trialOf(ctx.db, trial.id);
}

const practice = (db: ReadDb, modelId: string) => {
  const model = needModel(db, modelId);
  return {
    family: model.family === '' ? model.name : model.family,
    factorsPpm: practiceOf(db, familyOf(model)),
  };
};

/** Which use-case answers which call. */
export const trialHandlers: Pick<Handlers, keyof typeof trialEndpoints> = {
  'trials.list': (ctx, input) => listTrials(ctx.db, input).map((record) => trialRow(ctx.db, record)),
  'trials.get': (ctx, { id }) => trialOf(ctx.db, id),
  'trials.methods': (ctx, { modelId }) => methodsOf(ctx.db, needModel(ctx.db, modelId).id),
  'trials.save': { run: (ctx, input) => saveTrial(ctx, input) },
  'trials.place': { run: (ctx, input) => place(ctx, input) },
  'trials.practice': (ctx, { modelId }) => practice(ctx.db, modelId),
  'trials.savePractice': {
    run: (ctx, { modelId, factorsPpm }) => {
      writePractice(ctx.db, familyOf(needModel(ctx.db, modelId)), factorsPpm);
      return practice(ctx.db, modelId);
    },
  },
};

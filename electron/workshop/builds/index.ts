/** The Builds area's use-cases, and what other areas may do to a knife. */
import type { buildEndpoints } from '../../api/builds.ts';
import type { Handlers } from '../handlers.ts';
import { batches } from './batches.ts';
import { become } from './become.ts';
import { charge, reverseCharge } from './charges.ts';
import { get, list } from './get.ts';
import { learning } from './learning.ts';
import { model, models, setPrice } from './models.ts';
import { plan, update } from './plan.ts';
import { addNote, end, finish, reopen, stage, start } from './progress.ts';
import { saveModel } from './save-model.ts';
import { takeUsual } from './take-usual.ts';

/** Which use-case answers which call. */
export const buildHandlers: Pick<Handlers, keyof typeof buildEndpoints> = {
  'builds.models': models,
  'builds.model': model,
  'builds.saveModel': saveModel,
  'builds.setPrice': setPrice,
  'builds.list': list,
  'builds.batches': batches,
  'builds.learning': learning,
  'builds.get': get,
  'builds.plan': plan,
  'builds.update': update,
  'builds.become': become,
  'builds.start': start,
  'builds.stage': stage,
  'builds.finish': finish,
  'builds.end': end,
  'builds.reopen': reopen,
  'builds.addNote': addNote,
  'builds.takeUsual': takeUsual,
  'builds.charge': charge,
  'builds.reverseCharge': reverseCharge,
};

/** Use-cases: plan knives from a model, and change what a knife is called. */
import { invalid, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildWithSerial, highestSerial, newestSerials } from '../../storage/queries/builds.ts';
import { inserter } from '../../storage/queries/insert.ts';
import { modelStageRows } from '../../storage/queries/models.ts';
import { nextCount } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { needModel } from './models.ts';
import { nextSerials, serialPrefix } from './serial.ts';
import { needBuild } from './touch.ts';
import { buildAsRow } from './views.ts';

/** How far back the way of writing serials is looked for. */
const SERIALS_LOOKED_AT = 20;

function demandFreeSerial(db: ReadDb, serial: string, id?: string): void {
  const same = buildWithSerial(db, serial);
  if (same !== undefined && same.id !== id) {
    throw refused(`There is already a knife ${serial}. Give this one another serial.`, 'serial');
  }
}

function freeSerials(db: ReadDb, count: number): string[] {
  const prefix = serialPrefix(newestSerials(db, SERIALS_LOOKED_AT).map((row) => row.serial));
  return nextSerials(prefix, highestSerial(db, prefix), count);
}

const insertBuild = inserter('builds', [
  'id',
  'number',
  'serial',
  'title',
  'model_id',
  'state',
  'method',
  'batch',
  'planned_on',
  'end_reason',
  'note',
]);
const insertStage = inserter('build_stages', ['build_id', 'position', 'stage_code', 'usual_minutes']);

/** Plans one or more knives; each gets the model's stages as they are today. */
export const plan: HandlerFor<'builds.plan'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const model = needModel(ctx.db, input.modelId);
    if (input.serial !== undefined) {
      if (input.count > 1)
        throw invalid('A serial of your own is for one knife. Plan one, or leave the serial out.', 'serial');
      demandFreeSerial(ctx.db, input.serial);
    }
    const serials = input.serial === undefined ? freeSerials(ctx.db, input.count) : [input.serial];
    const first = nextCount(ctx.db, 'builds');
    const stages = modelStageRows(ctx.db, model.id);
    const shared = {
      title: input.title === '' ? model.name : input.title,
      model_id: model.id,
      state: 'planned',
      method: input.method ?? model.method,
      batch: input.batch,
      planned_on: input.on,
      end_reason: '',
      note: input.note,
    };
    const ids = serials.map((serial, at) => {
      const id = ctx.newId();
      ctx.db.run(insertBuild({ id, number: first + at, serial, ...shared }));
      for (const { position, code, minutes } of stages) {
        ctx.db.run(insertStage({ build_id: id, position, stage_code: code, usual_minutes: minutes }));
      }
      return id;
    });
    return { ids, serials };
  },
};

/** Changes what a knife is called. The serial of a sold knife stands on its papers and stays. */
export const update: HandlerFor<'builds.update'> = {
  run(ctx, { id, serial, title, method, batch, note }) {
    needWorkshop(ctx.db);
    const before = needBuild(ctx.db, id);
    if (serial !== before.serial && before.state === 'sold') {
      throw refused(
        `${before.serial} is sold and stands on its papers; its serial cannot change any more.`,
        'serial',
      );
    }
    demandFreeSerial(ctx.db, serial, id);
    ctx.db.run(
      ctx.db.q.updateTable('builds').set({ serial, title, method, batch, note }).where('id', '=', id),
    );
    return buildAsRow(ctx.db, id);
  },
};

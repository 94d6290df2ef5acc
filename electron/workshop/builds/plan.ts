/** Use-cases: plan knives from a model, and change what a knife is called. */
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { bladeOfBuild, buildWithSerial, highestSerial, newestSerials } from '../../storage/queries/builds.ts';
import { inserter } from '../../storage/queries/insert.ts';
import { modelStageRows } from '../../storage/queries/models.ts';
import { releaseOfBuild } from '../../storage/queries/releases.ts';
import { nextCount } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { writeLog } from '../releases/log.ts';
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

/** A flaw found or mended after a knife was shown to buyers stands in the log of its release. */
function tellRelease(ctx: CommandContext, buildId: string, flaw: string): void {
  const release = releaseOfBuild(ctx.db, buildId);
  if (release === undefined) return;
  const detail = flaw === '' ? 'No flaw any more.' : `Flaw: ${flaw}`;
  writeLog(ctx, { releaseId: release.id, at: ctx.clock.now(), what: 'changed', buildId, detail });
}

/** Size, steel and finish of its own; what is as the model has it stays with the model. */
function ownBlade(ctx: CommandContext, input: Parsed<'builds.update'>) {
  const before = bladeOfBuild(ctx.db, input.id);
  const { bladeNm, steel, finish } = input;
  return {
    ...(bladeNm === undefined ? {} : { blade_nm: bladeNm === before?.model_nm ? null : bladeNm }),
    ...(steel === undefined ? {} : { steel: steel === before?.model_steel ? null : steel }),
    ...(finish === undefined ? {} : { finish: finish === before?.model_finish ? null : finish }),
  };
}

/** Changes what a knife is called. The serial and the flaw of a sold knife stand on its papers and stay. */
export const update: HandlerFor<'builds.update'> = {
  run(ctx, input) {
    const { id, serial, title, method, batch, note, flaw: stated } = input;
    needWorkshop(ctx.db);
    const before = needBuild(ctx.db, id);
    if (serial !== before.serial && before.state === 'sold') {
      throw refused(
        `${before.serial} is sold and stands on its papers; its serial cannot change any more.`,
        'serial',
      );
    }
    demandFreeSerial(ctx.db, serial, id);
    const flaw = stated ?? before.flaw;
    if (flaw !== before.flaw) {
      if (before.state === 'sold')
        throw refused(
          `${before.serial} is sold with what its invoice says; its flaw cannot change any more.`,
          'flaw',
        );
      tellRelease(ctx, id, flaw);
    }
    const columns = { serial, title, method, batch, note, flaw, ...ownBlade(ctx, input) };
    ctx.db.run(ctx.db.q.updateTable('builds').set(columns).where('id', '=', id));
    return buildAsRow(ctx.db, id);
  },
};

/** Use-case: a knife becomes another model, because what was planned cannot be made of it any more. */
import { refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildStageRows, minutesByStage } from '../../storage/queries/builds.ts';
import { modelRow, modelStageRows } from '../../storage/queries/models.ts';
import { orderOfBuild } from '../../storage/queries/orders.ts';
import { stageRows } from '../../storage/queries/workshop.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { needModel } from './models.ts';
import { needBuild } from './touch.ts';
import { buildAsRow } from './views.ts';

interface Stage {
  readonly code: string;
  readonly usual: number;
  readonly doneOn: string | null;
}

/** What stays of the old stages, ticked or worked on, and what the new model asks for, in the workshop's order of work. */
function stagesAfter(db: ReadDb, buildId: string, modelId: string): readonly Stage[] {
  const worked = new Set(minutesByStage(db, buildId).map((row) => row.code));
  const kept = buildStageRows(db, buildId)
    .filter((row) => row.done_on !== null || worked.has(row.code))
    .map((row) => ({ code: row.code, usual: row.usual_minutes, doneOn: row.done_on }));
  const has = new Set(kept.map((stage) => stage.code));
  const wanted = modelStageRows(db, modelId)
    .filter((row) => !has.has(row.code))
    .map((row) => ({ code: row.code, usual: row.minutes, doneOn: null }));
  const order = new Map(stageRows(db).map((stage) => [stage.code, stage.position]));
  return [...kept, ...wanted].sort((a, b) => (order.get(a.code) ?? 0) - (order.get(b.code) ?? 0));
}

/**
 * Changes a knife's model. What is booked on it stays: hours, parts, costs, checks.
 * @throws FaultError when the knife has ended, or is promised as what it was
 */
export const become: HandlerFor<'builds.become'> = {
  run(ctx, { id, modelId, reason }) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, id);
    const model = needModel(ctx.db, modelId);
    if (!['planned', 'inWork', 'finished'].includes(build.state))
      throw refused(
        `${build.serial} has ended. Take it back to the bench first, then make another model of it.`,
      );
    if (model.id === build.model_id)
      throw refused(`${build.serial} is a ${model.name} already. Choose another model.`, 'modelId');
    if (orderOfBuild(ctx.db, id)?.until_on === null)
      throw refused(
        `${build.serial} is made for an order of another model. Take it off that order first, then change it.`,
        'modelId',
      );
    const before = modelRow(ctx.db, build.model_id);
    const stages = stagesAfter(ctx.db, id, modelId);
    const { q } = ctx.db;
    ctx.db.run(q.deleteFrom('build_stages').where('build_id', '=', id));
    stages.forEach(({ code, usual, doneOn }, position) => {
      const row = { build_id: id, position, stage_code: code, usual_minutes: usual, done_on: doneOn };
      ctx.db.run(q.insertInto('build_stages').values(row));
    });
    const title = build.title === before?.name ? model.name : build.title;
    ctx.db.run(q.updateTable('builds').set({ model_id: modelId, title }).where('id', '=', id));
    const text = `Became ${model.name} instead of ${before?.name ?? 'what was planned'}: ${reason}`;
    ctx.db.run(
      q.insertInto('build_notes').values({ id: ctx.newId(), build_id: id, at: ctx.clock.now(), text }),
    );
    return buildAsRow(ctx.db, id);
  },
};

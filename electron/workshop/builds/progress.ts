/** Use-cases: a knife's way from planned to its end, and its notes. */
import type { BuildState } from '../../api/builds.ts';
import { invalid, refused } from '../../api/errors.ts';
import { buildStageRows } from '../../storage/queries/builds.ts';
import { stageRow } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { demandNobodyHas } from '../releases/sold.ts';
import { needWorkshop } from '../workshop/need.ts';
import { needBuild, type NeededBuild } from './touch.ts';
import { buildAsRow } from './views.ts';

const stands: Readonly<Record<BuildState, string>> = {
  planned: 'is only planned',
  inWork: 'is in work already',
  finished: 'is finished already',
  sold: 'is sold',
  scrapped: 'is scrapped',
  kept: 'is kept out of sale',
};

const howItStands = (build: NeededBuild): string => `${build.serial} ${stands[build.state as BuildState]}`;

function setState(ctx: CommandContext, id: string, columns: Readonly<Record<string, string | null>>) {
  ctx.db.run(ctx.db.q.updateTable('builds').set(columns).where('id', '=', id));
  return buildAsRow(ctx.db, id);
}

function demandAfterStart(build: NeededBuild, on: string): void {
  if (build.started_on !== null && on < build.started_on) {
    throw invalid(
      `${build.serial} was started on ${build.started_on}; it cannot end before that. Change the date.`,
      'on',
    );
  }
}

/** Starts a planned knife. */
export const start: HandlerFor<'builds.start'> = {
  run(ctx, { id, on }) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, id);
    if (build.state !== 'planned') throw refused(`${howItStands(build)}; only a planned knife is started.`);
    return setState(ctx, id, { state: 'inWork', started_on: on });
  },
};

function addStage(ctx: CommandContext, build: NeededBuild, code: string): void {
  if (stageRow(ctx.db, code) === undefined)
    throw invalid(`There is no stage ${code}. Choose one from the list.`, 'code');
  const last = buildStageRows(ctx.db, build.id).at(-1)?.position ?? -1;
  const row = { build_id: build.id, position: last + 1, stage_code: code, usual_minutes: 0 };
  ctx.db.run(ctx.db.q.insertInto('build_stages').values(row));
}

/** Ticks a stage off, or takes the tick away. A stage the knife was not planned with joins its list. */
export const stage: HandlerFor<'builds.stage'> = {
  run(ctx, { id, code, done, on }) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, id);
    if (build.state === 'scrapped') throw refused(`${howItStands(build)}; take it back to the bench first.`);
    if (!buildStageRows(ctx.db, id).some((each) => each.code === code)) addStage(ctx, build, code);
    const { q } = ctx.db;
    ctx.db.run(
      q
        .updateTable('build_stages')
        .set({ done_on: done ? on : null })
        .where('build_id', '=', id)
        .where('stage_code', '=', code),
    );
    if (done && build.state === 'planned') return setState(ctx, id, { state: 'inWork', started_on: on });
    return buildAsRow(ctx.db, id);
  },
};

/** Finishes a knife that is in work. Stages left open do not stand in the way. */
export const finish: HandlerFor<'builds.finish'> = {
  run(ctx, { id, on }) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, id);
    if (build.state === 'planned')
      throw refused(`${build.serial} was never started. Start it first, or book its hours and parts.`);
    if (build.state !== 'inWork') throw refused(`${howItStands(build)}; only a knife in work is finished.`);
    demandAfterStart(build, on);
    return setState(ctx, id, { state: 'finished', finished_on: on });
  },
};

/** Ends a knife that will not be sold. */
export const end: HandlerFor<'builds.end'> = {
  run(ctx, { id, as, on, reason }) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, id);
    if (build.state === 'sold') throw refused(`${howItStands(build)}; credit the sale first.`);
    if (build.state === 'scrapped' || build.state === 'kept') {
      throw refused(`${howItStands(build)}; take it back to the bench first.`);
    }
    demandNobodyHas(ctx, id);
    demandAfterStart(build, on);
    return setState(ctx, id, { state: as, ended_on: on, end_reason: reason });
  },
};

/** Takes a finished, scrapped or kept knife back to the bench; one that was never started is planned again. */
export const reopen: HandlerFor<'builds.reopen'> = {
  run(ctx, { id }) {
    needWorkshop(ctx.db);
    const build = needBuild(ctx.db, id);
    if (build.state === 'sold') throw refused(`${howItStands(build)}; credit the sale first.`);
    if (build.state === 'planned' || build.state === 'inWork')
      throw refused(`${build.serial} is on the bench already.`);
    const state = build.started_on === null ? 'planned' : 'inWork';
    return setState(ctx, id, { state, finished_on: null, ended_on: null, end_reason: '' });
  },
};

/** Writes a note on a knife. */
export const addNote: HandlerFor<'builds.addNote'> = {
  run(ctx, { id, text }) {
    needWorkshop(ctx.db);
    needBuild(ctx.db, id);
    const noteId = ctx.newId();
    ctx.db.run(
      ctx.db.q.insertInto('build_notes').values({ id: noteId, build_id: id, at: ctx.clock.now(), text }),
    );
    return { noteId };
  },
};

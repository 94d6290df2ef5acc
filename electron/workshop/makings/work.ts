/** Use-cases: begin a making, change what it is called and how it is shared, write its steps down. */
import { invalid, refused } from '../../api/errors.ts';
import { mayFollow } from '../../domain/making-steps.ts';
import { makingSteps, nextMakingNumber } from '../../storage/queries/makings.ts';
import { valueOrRefuse } from '../answers.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { makingDetail, said } from './detail.ts';
import { needMaking, needOpenMaking, touchMaking } from './need.ts';
import { weigher } from './words.ts';

/** Begins a making. */
export const start: HandlerFor<'makings.start'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    demandCome(ctx.clock.today(), input.on);
    const id = ctx.newId();
    const row = {
      id,
      number: nextMakingNumber(ctx.db),
      title: input.title,
      kind: input.kind,
      state: 'open',
      started_on: input.on,
      ended_on: null,
      share_key: input.shareKey,
      labour_over: input.labourOver,
      start_layers: input.startLayers,
      end_reason: '',
      note: input.note,
    };
    ctx.db.run(ctx.db.q.insertInto('makings').values(row));
    return makingDetail(ctx.db, id);
  },
};

/** Changes a making. How it is shared is fixed once it has ended. */
export const update: HandlerFor<'makings.update'> = {
  run(ctx, input) {
    const making = needMaking(ctx.db, input.id);
    const sharedAnew =
      input.shareKey !== making.share_key ||
      input.labourOver !== making.labour_over ||
      input.startLayers !== making.start_layers;
    if (making.state !== 'open' && sharedAnew) {
      throw refused(
        'How cost and hours are shared is fixed once a making has ended. Take it back to the bench first, if nothing of it has been used.',
        'shareKey',
      );
    }
    const columns = {
      title: input.title,
      share_key: input.shareKey,
      labour_over: input.labourOver,
      start_layers: input.startLayers,
      note: input.note,
    };
    ctx.db.run(ctx.db.q.updateTable('makings').set(columns).where('id', '=', input.id));
    return makingDetail(ctx.db, input.id);
  },
};

/** Writes the next step down. */
export const step: HandlerFor<'makings.step'> = {
  run(ctx, { makingId, on, kind, label, weightAfterNg, pieces, note }) {
    const making = needOpenMaking(ctx.db, makingId);
    demandCome(ctx.clock.today(), on);
    const before = makingSteps(ctx.db, makingId);
    const last = before.at(-1);
    if (last !== undefined && on < last.on_date) {
      throw invalid(`The step before it was on ${last.on_date}. Write that day or a later one.`, 'on');
    }
    const next = { weightAfterNg, pieces };
    const write = weigher(needWorkshop(ctx.db));
    valueOrRefuse(mayFollow(before.map(said), next, making.start_layers, write), 'weightAfterNg');
    const row = {
      id: ctx.newId(),
      making_id: makingId,
      position: (last?.position ?? 0) + 1,
      on_date: on,
      kind,
      label,
      weight_after_ng: weightAfterNg,
      pieces,
      note,
    };
    ctx.db.run(ctx.db.q.insertInto('making_steps').values(row));
    touchMaking(ctx.db, making, on);
    return makingDetail(ctx.db, makingId);
  },
};

/** Takes the last step away again. */
export const dropStep: HandlerFor<'makings.dropStep'> = {
  run(ctx, { makingId, stepId }) {
    needOpenMaking(ctx.db, makingId);
    if (makingSteps(ctx.db, makingId).at(-1)?.id !== stepId) {
      throw refused(
        'Only the last step can be taken away: those after it build on it. Take them away first.',
      );
    }
    ctx.db.run(ctx.db.q.deleteFrom('making_steps').where('id', '=', stepId));
    return makingDetail(ctx.db, makingId);
  },
};

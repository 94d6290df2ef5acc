/** Use-cases: a wait begins, is given longer, is seen to, or is dropped. None of them books a minute of labour. */
import type { Wait } from '../../api/waits.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { ReadDb } from '../../storage/db.ts';
import { knivesById, listStages, makingState } from '../../storage/queries/hours.ts';
import {
  heatIsThere,
  insertWait,
  updateWait,
  type WaitRecord,
  waitRow,
} from '../../storage/queries/waits.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { millisecondsBetween, minutesLater } from '../hours/instants.ts';
import { needWorkshop } from '../workshop/need.ts';
import { toWaits } from './views.ts';

function answer(ctx: CommandContext, id: string): Wait {
  const row = waitRow(ctx.db, id);
  const wait = row && toWaits(ctx.db, [row], ctx.clock.now())[0];
  if (!wait) throw missing('This wait is not in the books. Load the list again.');
  return wait;
}

function checkWhat(db: ReadDb, input: Parsed<'waits.start'>): void {
  if (input.kind === 'other' && input.label === '')
    throw invalid('Say what it waits for, for example “stain dries”.', 'label');
  if (new Set(input.buildIds).size !== input.buildIds.length)
    throw invalid('A knife is named twice. Name each once.', 'buildIds');
  if (knivesById(db, input.buildIds).length !== input.buildIds.length)
    throw invalid('One of the knives is not in the books. Choose it again.', 'buildIds');
  if (input.stageCode !== null && !listStages(db).some((stage) => stage.code === input.stageCode))
    throw invalid(`There is no stage ${input.stageCode}. Choose one from the list.`, 'stageCode');
  if (input.makingId !== null && !makingState(db, input.makingId))
    throw invalid('This making is not in the books. Choose it again.', 'makingId');
  if (input.heatId !== null && !heatIsThere(db, input.heatId))
    throw invalid('This heat treatment is not in the books. Choose it again.', 'heatId');
}

/** Begins a wait, now or since an earlier instant. */
export const start: HandlerFor<'waits.start'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    checkWhat(ctx.db, input);
    const now = ctx.clock.now();
    const startedAt = input.startedAt ?? now;
    if (millisecondsBetween(startedAt, now) < 0)
      throw invalid('A wait cannot begin in the future. Leave the start empty for now.', 'startedAt');
    const row = {
      id: ctx.newId(),
      kind: input.kind,
      label: input.label,
      stage_code: input.stageCode,
      making_id: input.makingId,
      heat_id: input.heatId,
      started_at: startedAt,
      ends_at: minutesLater(startedAt, input.minutes),
      done_at: null,
      dropped_at: null,
      note: input.note,
    };
    insertWait(ctx.db, row, input.buildIds);
    return answer(ctx, row.id);
  },
};

/** @throws FaultError when the wait is not there, or is over and done with */
function openWait(db: ReadDb, id: string): WaitRecord {
  const row = waitRow(db, id);
  if (!row) throw missing('This wait is not in the books. Load the list again.');
  if (row.done_at !== null) throw refused('This wait was seen to already. Start a new one if it goes on.');
  if (row.dropped_at !== null) throw refused('This wait was dropped. Start a new one.');
  return row;
}

/** Seen to. */
export const done: HandlerFor<'waits.done'> = {
  run(ctx, { id, at }) {
    const row = openWait(ctx.db, id);
    const now = ctx.clock.now();
    if (at !== undefined && millisecondsBetween(at, now) < 0)
      throw invalid('It cannot have been seen to in the future. Leave the time empty for now.', 'at');
    if (at !== undefined && millisecondsBetween(row.started_at, at) < 0)
      throw invalid('It was not begun by then. Give a later time.', 'at');
    // A machine whose clock was set back must not make a wait end before it began.
    const seen = at ?? now;
    updateWait(ctx.db, id, { done_at: seen < row.started_at ? row.started_at : seen });
    return answer(ctx, id);
  },
};

/** Gives a wait another length, counted from its start. */
export const change: HandlerFor<'waits.change'> = {
  run(ctx, { id, minutes }) {
    const row = openWait(ctx.db, id);
    updateWait(ctx.db, id, { ends_at: minutesLater(row.started_at, minutes) });
    return answer(ctx, id);
  },
};

/** Ends a wait that was none: it counts nowhere. */
export const drop: HandlerFor<'waits.drop'> = {
  run(ctx, { id, reason }) {
    const row = openWait(ctx.db, id);
    const note = [row.note, reason === '' ? '' : `Dropped: ${reason}`]
      .filter((text) => text !== '')
      .join('\n');
    updateWait(ctx.db, id, { dropped_at: ctx.clock.now(), note });
    return null;
  },
};

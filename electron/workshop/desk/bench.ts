/** Use-case: the bench today. */
import type { BenchDay } from '../../api/desk.ts';
import { addDays, dayOfWeek } from '../../domain/calendar.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildPage } from '../../storage/queries/builds.ts';
import { lateWork, minutesBetween, salesWithoutInvoice, stepsDone } from '../../storage/queries/desk.ts';
import { itemRows } from '../../storage/queries/items.ts';
import { openBatches } from '../builds/batches.ts';
import { toBuildRows } from '../builds/views.ts';
import type { HandlerFor } from '../handlers.ts';
import { clocksNow } from '../hours/clock.ts';
import { sellingHandlers } from '../selling/index.ts';
import { toItemRow } from '../stock/views.ts';
import { openWaits } from '../waits/list.ts';
import { oilDue, shortFor, suppliesDue } from './supplies.ts';

/** Knives of one state shown on the bench; the list has them all. */
const KNIVES_SHOWN = 8;
const INVOICES_SHOWN = 50;
/** How far back "lately" reaches, in sessions, and how many stages it names. */
const SESSIONS_LOOKED_AT = 40;
const STAGES_SHOWN = 5;

function inState(db: ReadDb, state: string): BenchDay['inWork'] {
  const page = buildPage(db, { states: [state], limit: KNIVES_SHOWN, offset: 0 });
  return { rows: toBuildRows(db, page.rows), total: page.total };
}

/** Stages worked on most lately, each with the open knives of its latest session. */
function lately(db: ReadDb): BenchDay['lately'] {
  const stages = new Map<
    string,
    { stageCode: string; stageName: string; builds: Map<string, { id: string; serial: string }> }
  >();
  for (const { stageCode, stageName, id, serial } of lateWork(db, SESSIONS_LOOKED_AT)) {
    const stage = stages.get(stageCode) ?? { stageCode, stageName, builds: new Map() };
    stage.builds.set(id, { id, serial });
    stages.set(stageCode, stage);
  }
  return [...stages.values()]
    .slice(0, STAGES_SHOWN)
    .map((stage) => ({ ...stage, builds: [...stage.builds.values()] }));
}

const stepKeys = [
  'items',
  'purchase',
  'model',
  'build',
  'hours',
  'sale',
] as const satisfies readonly BenchDay['firstSteps'][number]['key'][];

function firstSteps(db: ReadDb): BenchDay['firstSteps'] {
  const done = stepsDone(db);
  return stepKeys.map((key) => ({ key, done: Number(done?.[key] ?? 0) === 1 }));
}

/** Everything the bench shows at one glance. */
export const today: HandlerFor<'bench.today'> = async (ctx) => {
  const { db } = ctx;
  const day = ctx.clock.today();
  const monday = addDays(day, 1 - dayOfWeek(day));
  const unpaid = await sellingHandlers['selling.invoices'](ctx, {
    text: '',
    state: 'open',
    limit: INVOICES_SHOWN,
    offset: 0,
  });
  const clocks = clocksNow(ctx);
  const short = shortFor(db, day);
  return {
    today: day,
    clock: clocks.find((clock) => clock.personId === null) ?? null,
    clocks,
    waits: openWaits(ctx),
    batches: openBatches(db),
    shortFor: short,
    oilDue: await oilDue(ctx),
    suppliesDue: suppliesDue(db, day),
    inWork: inState(db, 'inWork'),
    planned: inState(db, 'planned'),
    unsold: inState(db, 'finished'),
    low: itemRows(db, { onlyLow: true })
      .filter((row) => !short.some((each) => each.itemId === row.id))
      .map(toItemRow),
    unpaid: unpaid.rows,
    soldWithoutInvoice: salesWithoutInvoice(db),
    minutesToday: minutesBetween(db, day, day),
    minutesThisWeek: minutesBetween(db, monday, addDays(monday, 6)),
    lately: lately(db),
    firstSteps: firstSteps(db),
  };
};

/** Use-cases: what was really done to a batch in the fire. */
import type { Heat, HeatRow } from '../../api/heats.ts';
import type { Parsed } from '../../api/contract.ts';
import { missing } from '../../api/errors.ts';
import { heatCautions } from '../../domain/heat-treatment.ts';
import { sumOf } from '../../domain/integers.ts';
import { roundedSpreadOf } from '../../domain/spread.ts';
import { temperParameterMilli } from '../../domain/tempering.ts';
import type { ReadDb } from '../../storage/db.ts';
import { attachmentRows } from '../../storage/queries/attachments.ts';
import { quenchesOfHeat } from '../../storage/queries/fires.ts';
import { checkRows } from '../../storage/queries/gates.ts';
import {
  buildsOfHeats,
  checkIdsOfHeat,
  heatCount,
  type HeatListRow,
  heatRow,
  heatRows,
  heatStepRows,
  heatTagOf,
  nextHeatNumber,
  replaceHeatSteps,
  waitIdsOfHeat,
} from '../../storage/queries/heats.ts';
import { waitRow } from '../../storage/queries/waits.ts';
import { needBuild, touchBuild } from '../builds/touch.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { toAttachment } from '../files/views.ts';
import { bathById, needBath } from '../fires/baths.ts';
import { needFire } from '../fires/ovens.ts';
import { demandOnce } from '../fires/quench.ts';
import { toChecks } from '../gates/views.ts';
import type { HandlerFor } from '../handlers.ts';
import { toWaits } from '../waits/views.ts';
import { needWorkshop } from '../workshop/need.ts';
import { hardnessByHeat } from './hardness.ts';
import { needRecipe } from './recipes.ts';
import { demandSaneSteps, stepColumns, toStep } from './steps.ts';

type Knives = ReturnType<typeof buildsOfHeats>;

function toRow(row: HeatListRow, knives: Knives, hardness: Map<string, number[]>): HeatRow {
  return {
    id: row.id,
    tag: heatTagOf(row.number),
    on: row.on_date,
    batch: row.batch,
    recipeName: row.recipe_name,
    builds: knives
      .filter((knife) => knife.heat_id === row.id)
      .map((knife) => ({
        id: knife.id,
        serial: knife.serial,
        title: knife.title === '' ? knife.model_name : knife.title,
      })),
    meanMilliHrc: roundedSpreadOf(hardness.get(row.id) ?? [])?.mean ?? null,
  };
}

/** A page of records, the newest first. */
export const heats: HandlerFor<'heats.list'> = (ctx, input) => {
  const rows = heatRows(ctx.db, input);
  const knives = buildsOfHeats(
    ctx.db,
    rows.map((row) => row.id),
  );
  const hardness = rows.length === 0 ? new Map<string, number[]>() : hardnessByHeat(ctx.db);
  return { rows: rows.map((row) => toRow(row, knives, hardness)), total: heatCount(ctx.db, input) };
};

/** A record. @throws FaultError `missing` for an unknown id */
function needHeat(db: ReadDb, id: string): HeatListRow {
  const row = heatRow(db, id);
  if (row === undefined)
    throw missing('This heat-treat record does not exist any more. Go back to the list.');
  return row;
}

const waitsOf = (ctx: QueryContext | CommandContext, heatId: string): Heat['waits'] =>
  toWaits(
    ctx.db,
    waitIdsOfHeat(ctx.db, heatId).flatMap((id) => waitRow(ctx.db, id) ?? []),
    ctx.clock.now(),
  );

/** One record with everything that hangs on it. */
export function heatById(ctx: QueryContext | CommandContext, id: string): Heat {
  const row = needHeat(ctx.db, id);
  const steps = heatStepRows(ctx.db, id).map(toStep);
  const bath = row.bath_id === null ? null : bathById(ctx, row.bath_id);
  const tempers = steps.flatMap((step) =>
    step.kind === 'temper' && step.tempMilliC !== null
      ? [{ milliC: step.tempMilliC, minutes: step.minutes }]
      : [],
  );
  return {
    ...toRow(row, buildsOfHeats(ctx.db, [id]), hardnessByHeat(ctx.db)),
    recipeId: row.recipe_id,
    fireId: row.fire_id,
    fireName: row.fire_name,
    bathId: row.bath_id,
    bathName: row.bath_name,
    note: row.note,
    steps,
    temperParameterMilli: temperParameterMilli(tempers),
    quenched: sumOf(quenchesOfHeat(ctx.db, id), (event) => event.quenches),
    checks: checkIdsOfHeat(ctx.db, id).flatMap((checkId) =>
      toChecks(ctx.db, checkRows(ctx.db, { id: checkId })),
    ),
    waits: waitsOf(ctx, id),
    attachments: attachmentRows(ctx.db, 'heat', id).map(toAttachment),
    cautions: heatCautions({
      steps,
      fireKind: row.fire_kind as 'oven' | 'forge' | null,
      flashMilliC: row.flash_milli_c,
      inOil: bath !== null,
      bathDue: bath?.due == null ? null : `${bath.name}: ${bath.due}`,
    }),
  };
}

/** One record. */
export const heat: HandlerFor<'heats.get'> = (ctx, { id }) => heatById(ctx, id);

/** @throws FaultError when something the record names is not in the books */
function demandNamed(db: ReadDb, input: Parsed<'heats.save'>): void {
  if (input.recipeId !== null) needRecipe(db, input.recipeId);
  if (input.fireId !== null) needFire(db, input.fireId);
  if (input.bathId !== null) needBath(db, input.bathId);
}

/** The batch all the knives share; empty where they do not. */
function sharedBatch(db: ReadDb, buildIds: readonly string[]): string {
  const names = new Set(buildIds.map((id) => needBuild(db, id).batch));
  const [only = ''] = names;
  return names.size === 1 ? only : '';
}

/** Writes a record down, or goes on with one; knives that were only planned are in work from then on. */
export const saveHeat: HandlerFor<'heats.save'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    demandNamed(ctx.db, input);
    demandOnce(input.buildIds, 'buildIds');
    demandSaneSteps(input.steps);
    const columns = {
      on_date: input.on,
      batch: input.batch === '' ? sharedBatch(ctx.db, input.buildIds) : input.batch,
      recipe_id: input.recipeId,
      fire_id: input.fireId,
      bath_id: input.bathId,
      note: input.note,
    };
    const { q } = ctx.db;
    const id = input.id ?? ctx.newId();
    if (input.id === undefined)
      ctx.db.run(q.insertInto('heats').values({ id, number: nextHeatNumber(ctx.db), ...columns }));
    else {
      needHeat(ctx.db, id);
      ctx.db.run(q.updateTable('heats').set(columns).where('id', '=', id));
    }
    for (const buildId of input.buildIds) touchBuild(ctx.db, buildId, input.on);
    replaceHeatSteps(ctx.db, id, stepColumns(input.steps), input.buildIds);
    return heatById(ctx, id);
  },
};

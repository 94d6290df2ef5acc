/** Use-cases: what was checked on a knife, and what came of it. */
import { type Check, type Gate, measures } from '../../api/gates.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import { aboutGate, askedOf, comparable } from '../../domain/gates.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  checkRows,
  countChecks,
  gateKnife,
  insertCheck,
  targetRows,
  voidCheck,
} from '../../storage/queries/gates.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { toChecks } from './views.ts';

function needKnife(db: ReadDb, buildId: string) {
  const knife = gateKnife(db, buildId);
  if (knife === undefined) throw missing('This knife does not exist any more. Go back to the list.');
  return knife;
}

/** Every gate of a knife with what is asked, what was found, and where it stands. */
export const forBuild: HandlerFor<'gates.forBuild'> = (ctx, input) => {
  const knife = needKnife(ctx.db, input.buildId);
  const targets = targetRows(ctx.db, knife.model_id);
  const made = toChecks(ctx.db, checkRows(ctx.db, { buildId: knife.id }));
  return measures.map((measure): Gate => {
    const { unit, places, caution } = aboutGate(measure);
    const checks = made.filter((check) => check.measure === measure);
    const standing = checks.find((check) => check.voidedReason === null);
    const asked = askedOf(
      targets.map((row) => ({ ...row, modelId: row.model_id, steelItemId: row.steel_item_id })),
      { measure, modelId: knife.model_id, steelItemId: knife.steel_item_id },
    );
    return {
      measure,
      unit,
      places,
      caution,
      asked:
        asked === undefined
          ? null
          : { target: asked.target, low: asked.low, high: asked.high, note: asked.note },
      state: standing?.verdict ?? 'open',
      checks,
    };
  });
};

type CheckInput = Parsed<'gates.check'>;
type KnifeInput = CheckInput['knives'][number];

function checkReadings({ measure }: CheckInput, knife: KnifeInput, field: string): void {
  const { unit } = aboutGate(measure);
  if (unit === null && knife.readings.length > 0)
    throw invalid('This gate is passed or not; it has no numbers.', `${field}.readings`);
  if (unit !== null && unit !== 'milliHrc' && knife.readings.some((reading) => reading.value < 0))
    throw invalid('A measured size cannot be below zero.', `${field}.readings`);
  if (measure !== 'hardness' && knife.scale !== null)
    throw invalid('Only hardness has a scale.', `${field}.scale`);
  const { problem } = comparable(
    measure,
    knife.readings.map((reading) => reading.value),
    knife.scale,
  );
  if (problem !== null) throw invalid(problem, `${field}.readings`);
}

function write(ctx: CommandContext, input: CheckInput, knife: KnifeInput): string {
  const of = needKnife(ctx.db, knife.buildId);
  if (of.state === 'planned') {
    throw refused(`${of.serial} is only planned. Begin it first, then check it.`, 'buildId');
  }
  const targets = targetRows(ctx.db, of.model_id).map((row) => ({
    ...row,
    modelId: row.model_id,
    steelItemId: row.steel_item_id,
  }));
  const asked = askedOf(targets, {
    measure: input.measure,
    modelId: of.model_id,
    steelItemId: of.steel_item_id,
  });
  const id = ctx.newId();
  insertCheck(
    ctx.db,
    {
      id,
      build_id: of.id,
      on_date: input.on,
      measure: input.measure,
      verdict: knife.verdict,
      scale: input.measure === 'hardness' && knife.readings.length > 0 ? (knife.scale ?? 'HRC') : null,
      target: asked?.target ?? null,
      low: asked?.low ?? null,
      high: asked?.high ?? null,
      stage_code: null,
      heat_id: input.heatId,
      note: knife.note,
      recorded_at: ctx.clock.now(),
      voided_reason: null,
    },
    knife.readings.map(({ place, value }, position) => ({ position, place, value })),
  );
  return id;
}

const byIds = (db: ReadDb, ids: readonly string[]): Check[] =>
  ids.flatMap((id) => toChecks(db, checkRows(db, { id })));

/** Writes down one gate for one knife or for a batch. */
export const check: HandlerFor<'gates.check'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    if (input.on > ctx.clock.today())
      throw invalid('This day has not come yet. Write the day it was checked.', 'on');
    const ids = input.knives.map((knife) => knife.buildId);
    if (new Set(ids).size < ids.length)
      throw invalid('The same knife is named twice. Name each knife once.', 'knives');
    for (const [at, knife] of input.knives.entries()) checkReadings(input, knife, `knives.${at}`);
    return byIds(
      ctx.db,
      input.knives.map((knife) => write(ctx, input, knife)),
    );
  },
};

/** A check written down wrongly counts no more; it stays with the reason. */
export const voidOne: HandlerFor<'gates.void'> = {
  run(ctx, input) {
    const [row] = checkRows(ctx.db, { id: input.checkId });
    if (row === undefined) throw missing('This check does not exist any more. Go back to the knife.');
    if (row.voided_reason !== null) throw refused('This check was voided already.');
    voidCheck(ctx.db, row.id, input.reason);
    const [answer] = byIds(ctx.db, [row.id]);
    if (answer === undefined) throw new Error('A voided check is gone');
    return answer;
  },
};

/** Checks over all knives, newest first. */
export const list: HandlerFor<'gates.list'> = (ctx, input) => ({
  rows: toChecks(ctx.db, checkRows(ctx.db, input, input)),
  total: countChecks(ctx.db, input),
});

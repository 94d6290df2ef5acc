/** Attended minutes still to spend on a knife, from the own knives before it. */
import { quantilesOf } from '../../domain/quantiles.ts';
import { groupBy } from '../../domain/groups.ts';
import { sumOf } from '../../domain/integers.ts';
import { TOO_FEW } from '../../domain/spread.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildStageRows, minutesByStage } from '../../storage/queries/builds.ts';
import { modelStageRows } from '../../storage/queries/models.ts';
import { stageHistory } from '../../storage/queries/ways.ts';

/** What one stage will take. */
export interface StageAhead {
  readonly code: string;
  readonly name: string;
  readonly minutes: number;
  readonly low: number;
  readonly high: number;
  /** Of how many own knives it is the middle; 0 is the model's usual. */
  readonly from: number;
}

export interface HoursAhead {
  readonly stages: readonly StageAhead[];
  readonly minutes: number;
  readonly low: number;
  readonly high: number;
}

/** Adds stages up. Quarters of sums are narrower than sums of quarters; the wider span is the honest one here. */
export const together = (stages: readonly StageAhead[]): HoursAhead => ({
  stages,
  minutes: sumOf(stages, (stage) => stage.minutes),
  low: sumOf(stages, (stage) => stage.low),
  high: sumOf(stages, (stage) => stage.high),
});

/** What each stage of a model takes: the middle of the own last knives from three on, else the usual minutes. */
export function stagesOfModel(db: ReadDb, modelId: string, butBuildId: string): StageAhead[] {
  const history = groupBy(stageHistory(db, modelId, butBuildId), (row) => row.stage_code);
  return modelStageRows(db, modelId).map(({ code, name, minutes }) => {
    const own = (history.get(code) ?? []).map((row) => row.minutes);
    if (own.length < TOO_FEW) return { code, name, minutes, low: minutes, high: minutes, from: 0 };
    const [low = 0, middle = 0, high = 0] = quantilesOf(own, [0.25, 0.5, 0.75]).map(Math.round);
    return { code, name, minutes: middle, low, high, from: own.length };
  });
}

/** Stages a knife has not behind it; what is booked on a stage under way is taken off. */
export function stagesLeft(db: ReadDb, buildId: string, stages: readonly StageAhead[]): StageAhead[] {
  const done = new Set(
    buildStageRows(db, buildId)
      .filter((row) => row.done_on !== null)
      .map((row) => row.code),
  );
  const booked = new Map(minutesByStage(db, buildId).map((row) => [row.code, row.minutes]));
  return stages
    .filter((stage) => !done.has(stage.code))
    .map((stage) => {
      const less = booked.get(stage.code) ?? 0;
      const rest = (minutes: number): number => Math.max(0, minutes - less);
      return { ...stage, minutes: rest(stage.minutes), low: rest(stage.low), high: rest(stage.high) };
    });
}

/** The last stage a knife has behind it, to be done over; nothing when none is. */
export function stageOver(db: ReadDb, buildId: string, stages: readonly StageAhead[]): StageAhead[] {
  const last = buildStageRows(db, buildId)
    .filter((row) => row.done_on !== null)
    .at(-1);
  return stages.filter((stage) => stage.code === last?.code);
}

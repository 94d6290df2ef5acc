/** The knives of a trial: which way each was made, what the stage took, and how practised the hand was. */
import { factorFromPace, factorFromTable } from '../../domain/practice.ts';
import { groupBy } from '../../domain/groups.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  begunKnives,
  type BegunKnife,
  exceptionsOf,
  practiceOf,
  stageConsumables,
  type StageConsumable,
  type StageMinutes,
  stageMinutes,
  type TrialRecord,
  waysOf,
} from '../../storage/queries/trials.ts';

/** Work around a knife that does not get quicker with the hand; common practice, no source. */
export const AROUND: ReadonlySet<string> = new Set(['DES', 'PHO', 'LST', 'PCK', 'MSG']);

export interface GatheredKnife {
  readonly knife: BegunKnife;
  readonly n: number;
  readonly way: 0 | 1 | 2;
  readonly reason: string;
  readonly minutes: number;
  readonly factor: number;
  readonly factorFrom: 'table' | 'pace' | 'none';
  readonly consumables: readonly StageConsumable[];
}

export interface Gathered {
  readonly ways: ReturnType<typeof waysOf>;
  readonly knives: readonly GatheredKnife[];
}

/** Where the practice of a model is written: its family, or itself. */
export const familyOf = (model: { readonly id: string; readonly family: string }): string =>
  model.family === '' ? model.id : model.family;

const sameMethod = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();

/** A stage still under way, or broken off with the knife, says nothing; one of a knife that was scrapped after it does. */
const isOver = (knife: BegunKnife, stage: StageMinutes): boolean =>
  stage.minutes > 0 && (stage.done_on !== null || !['planned', 'inWork', 'scrapped'].includes(knife.state));

/** Pace of a knife on its other stages that are over: what is half done, or was not planned, has no usual to hold it against. */
function paceOf(knife: BegunKnife, stages: readonly StageMinutes[], but: string) {
  const counted = stages.filter(
    (stage) =>
      stage.stage_code !== but &&
      !AROUND.has(stage.stage_code) &&
      stage.usual_minutes > 0 &&
      isOver(knife, stage),
  );
  return {
    minutes: counted.reduce((sum, stage) => sum + stage.minutes, 0),
    usual: counted.reduce((sum, stage) => sum + stage.usual_minutes, 0),
  };
}

function factorOf(
  table: readonly number[],
  n: number,
  pace: { readonly minutes: number; readonly usual: number },
): Pick<GatheredKnife, 'factor' | 'factorFrom'> {
  const given = factorFromTable(table, n);
  if (given !== undefined) return { factor: given, factorFrom: 'table' };
  const own = factorFromPace(pace);
  return own === undefined ? { factor: 1, factorFrom: 'none' } : { factor: own, factorFrom: 'pace' };
}

/** Gathers the knives a trial is about: of its model, begun in its days, with the stage behind them. */
export function gatherTrial(db: ReadDb, trial: TrialRecord): Gathered {
  const ways = waysOf(db, trial.id);
  const placed = new Map(exceptionsOf(db, trial.id).map((row) => [row.build_id, row]));
  const model = { id: trial.model_id, family: trial.family };
  const order = begunKnives(db, model).map((knife, at) => ({ knife, n: at + 1 }));
  const wanted = order.filter(
    ({ knife }) =>
      knife.model_id === trial.model_id &&
      (trial.from_on === null || knife.started_on >= trial.from_on) &&
      (trial.until_on === null || knife.started_on <= trial.until_on),
  );
  const ids = wanted.map(({ knife }) => knife.id);
  const stages = groupBy(stageMinutes(db, ids), (row) => row.build_id);
  const goods = groupBy(stageConsumables(db, ids, trial.stage_code), (row) => row.build_id ?? '');
  const table = practiceOf(db, familyOf(model)).map((ppm) => ppm / 1_000_000);
  const knives = wanted.flatMap(({ knife, n }): GatheredKnife[] => {
    const own = stages.get(knife.id) ?? [];
    const stage = own.find((row) => row.stage_code === trial.stage_code);
    if (stage === undefined || !isOver(knife, stage)) return [];
    const byHand = placed.get(knife.id);
    const byMethod = ways.find((way) => sameMethod(way.method, knife.method))?.position ?? 0;
    return [
      {
        knife,
        n,
        way: (byHand?.position ?? byMethod) as 0 | 1 | 2,
        reason: byHand?.reason ?? '',
        minutes: stage.minutes,
        ...factorOf(table, n, paceOf(knife, own, trial.stage_code)),
        consumables: goods.get(knife.id) ?? [],
      },
    ];
  });
  return { ways, knives };
}

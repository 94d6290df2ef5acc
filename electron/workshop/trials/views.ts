/** From a gathered trial to what the contract answers. */
import type {
  Trial,
  TrialKnifeRow,
  TrialMeasure,
  TrialRow,
  WayConsumables,
  WayFigures,
} from '../../api/trials.ts';
import { missing } from '../../api/errors.ts';
import type { Spread } from '../../domain/spread.ts';
import { compareWays, type Comparison, type TrialKnife, type TrialOutcome } from '../../domain/trial.ts';
import type { Form } from '../../domain/units.ts';
import type { ReadDb } from '../../storage/db.ts';
import { listTrials, type TrialRecord } from '../../storage/queries/trials.ts';
import { type Gathered, type GatheredKnife, gatherTrial } from './gather.ts';
import { finding, nothingYet, warningSentences } from './words.ts';

const PPM = 1_000_000;
const tenth = (value: number): number => Math.round(value * 10) / 10;
const ppm = (share: number): number => Math.round(share * PPM);

/** @throws FaultError when the trial is not in the books */
export function needTrial(db: ReadDb, id: string): TrialRecord {
  const record = listTrials(db, { id, includeArchived: true })[0];
  if (!record) throw missing('This trial is not in the books any more. Go back to the list.');
  return record;
}

const of = (knives: readonly GatheredKnife[], way: number): TrialKnife[] =>
  knives
    .filter((one) => one.way === way)
    .map(({ knife, minutes, factor, factorFrom }) => ({
      begun: knife.started_on,
      minutes,
      factor: factorFrom === 'none' ? null : factor,
    }));

interface Worked {
  readonly gathered: Gathered;
  readonly outcome: TrialOutcome | undefined;
}

function work(db: ReadDb, record: TrialRecord): Worked {
  const gathered = gatherTrial(db, record);
  const outcome = compareWays(of(gathered.knives, 1), of(gathered.knives, 2), record.seed);
  return { gathered, outcome };
}

function toRow(record: TrialRecord, { gathered, outcome }: Worked): TrialRow {
  const counted = ([1, 2] as const).map((position) => {
    const way = gathered.ways.find((one) => one.position === position);
    const knives = gathered.knives.filter((one) => one.way === position).length;
    return { position, name: way?.name ?? '', method: way?.method ?? '', knives };
  });
  const names: readonly [string, string] = [counted[0]?.name ?? '', counted[1]?.name ?? ''];
  const counts: readonly [number, number] = [counted[0]?.knives ?? 0, counted[1]?.knives ?? 0];
  return {
    id: record.id,
    number: record.number,
    title: record.title,
    modelId: record.model_id,
    modelCode: record.model_code,
    modelName: record.model_name,
    stageCode: record.stage_code,
    stageName: record.stage_name,
    from: record.from_on,
    until: record.until_on,
    note: record.note,
    archived: record.archived === 1,
    ways: counted,
    savingPpm: outcome === undefined ? null : ppm(outcome.raw.saving),
    practisedSavingPpm:
      outcome === undefined || outcome.warnings.includes('noPractice') ? null : ppm(outcome.practised.saving),
    sentence: outcome === undefined ? nothingYet(names, counts) : finding(outcome, names),
  };
}

const toFigures = (spread: Spread): WayFigures => ({
  n: spread.n,
  mean: tenth(spread.mean),
  median: tenth(spread.median),
  sd: spread.sd === null ? null : tenth(spread.sd),
  least: tenth(spread.least),
  most: tenth(spread.most),
});

const toMeasure = (one: Comparison): TrialMeasure => ({
  first: toFigures(one.first),
  second: toFigures(one.second),
  difference: tenth(one.difference),
  savingPpm: ppm(one.saving),
  welch:
    one.welch === null
      ? null
      : {
          t: one.welch.t,
          df: one.welch.df,
          p: one.welch.p,
          low: tenth(one.welch.low),
          high: tenth(one.welch.high),
        },
  noWelch: one.noWelch,
  drawnLowPpm: ppm(one.drawn.low),
  drawnHighPpm: ppm(one.drawn.high),
  needed: one.needed,
});

const spent = (one: GatheredKnife): number =>
  one.consumables.reduce((sum, goods) => sum + goods.value_micro, 0);

const toKnife = (one: GatheredKnife): TrialKnifeRow => ({
  buildId: one.knife.id,
  serial: one.knife.serial,
  state: one.knife.state,
  way: one.way,
  begun: one.knife.started_on,
  n: one.n,
  minutes: one.minutes,
  factorPpm: ppm(one.factor),
  factorFrom: one.factorFrom,
  practisedMinutes: tenth(one.minutes / one.factor),
  consumablesMicro: spent(one),
  reason: one.reason,
});

function consumablesOf(knives: readonly GatheredKnife[], way: 1 | 2): WayConsumables {
  const own = knives.filter((one) => one.way === way);
  const items = new Map<string, WayConsumables['items'][number]>();
  for (const goods of own.flatMap((one) => one.consumables)) {
    const before = items.get(goods.item_id);
    items.set(goods.item_id, {
      itemId: goods.item_id,
      name: goods.name,
      form: goods.form as Form,
      unit: goods.unit,
      pieceWord: goods.piece_word,
      meanQty: (before?.meanQty ?? 0) + goods.qty,
      meanMicro: (before?.meanMicro ?? 0) + goods.value_micro,
    });
  }
  const mean = (sum: number): number => (own.length === 0 ? 0 : Math.round(sum / own.length));
  return {
    way,
    meanMicro: mean(own.reduce((sum, one) => sum + spent(one), 0)),
    items: [...items.values()].map((item) => ({
      ...item,
      meanQty: mean(item.meanQty),
      meanMicro: mean(item.meanMicro),
    })),
  };
}

/** A trial for lists. */
export const trialRow = (db: ReadDb, record: TrialRecord): TrialRow => toRow(record, work(db, record));

/** A trial with everything behind it. */
export function trialOf(db: ReadDb, id: string): Trial {
  const record = needTrial(db, id);
  const worked = work(db, record);
  const { gathered, outcome } = worked;
  return {
    ...toRow(record, worked),
    knives: gathered.knives.map(toKnife),
    raw: outcome === undefined ? null : toMeasure(outcome.raw),
    practised: outcome === undefined ? null : toMeasure(outcome.practised),
    consumables: [consumablesOf(gathered.knives, 1), consumablesOf(gathered.knives, 2)],
    warnings: outcome === undefined ? [] : warningSentences(outcome),
    seed: record.seed,
  };
}

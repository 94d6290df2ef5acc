/** The own knives nearest to a wish, with what each took and what it would take at the place of the next one. */
import type { QuoteAsked, QuoteKnife, QuoteSpread } from '../../api/quotes.ts';
import { fitCurve, unitTime } from '../../domain/learning.ts';
import { sumOf } from '../../domain/integers.ts';
import { type Likeness, type Near, nearestOf, nearnessOf } from '../../domain/nearness.ts';
import { atPlace, factorFromTable } from '../../domain/practice.ts';
import { quantilesOf } from '../../domain/quantiles.ts';
import { groupBy } from '../../domain/groups.ts';
import { TOO_FEW } from '../../domain/spread.ts';
import type { ReadDb } from '../../storage/db.ts';
import { knivesInOrder } from '../../storage/queries/learning.ts';
import { type FinishedKnife, finishedKnives } from '../../storage/queries/quotes.ts';
import { begunKnives, practiceOf, stageMinutes } from '../../storage/queries/trials.ts';
import { directCosts } from '../costs/direct.ts';
import { AROUND, familyOf } from '../trials/gather.ts';
import type { Wish } from './wish.ts';

const PPM = 1_000_000;
/** As many knives as tell the hand of today. */
const MOST = 10;

const unlikeWords: Readonly<Record<Near['unlike'][number], string>> = {
  model: 'other model of the family',
  size: 'other size',
  steel: 'other steel',
  finish: 'other finish',
  method: 'made another way',
};

const nearWords = ({ unlike }: Near): string =>
  unlike.length === 0 ? 'alike in all that is known' : unlike.map((one) => unlikeWords[one]).join(', ');

/** Quarter, middle and three quarters, rounded to whole units; null for none. */
export function spreadIn(values: readonly number[]): QuoteSpread | null {
  if (values.length === 0) return null;
  const [low = 0, middle = 0, high = 0] = quantilesOf(values, [0.25, 0.5, 0.75]).map(Math.round);
  return { low, middle, high, knives: values.length };
}

/** What is known of practice in a family: the factor at a place, and how it is known. */
interface Practice {
  readonly nextPlace: number;
  factorOf(buildId: string): number | undefined;
  readonly nextFactor: number;
  readonly how: string;
}

function practiceIn(db: ReadDb, { model }: Wish): Practice | undefined {
  const family = { id: model.id, family: model.family };
  const place = new Map(begunKnives(db, family).map((knife, at) => [knife.id, at + 1]));
  const nextPlace = place.size + 1;
  const table = practiceOf(db, familyOf(family)).map((ppm) => ppm / PPM);
  const atTable = factorFromTable(table, nextPlace);
  if (atTable !== undefined)
    return {
      nextPlace,
      factorOf: (id) => factorFromTable(table, place.get(id) ?? 1),
      nextFactor: atTable,
      how: 'your own table of practice',
    };
  const made = knivesInOrder(db, family).map((row) => ({
    n: place.get(row.id) ?? 1,
    minutes: row.minutes,
  }));
  const fitted = fitCurve(made);
  if (!fitted.ok || fitted.value.rate >= 1) return undefined;
  const curve = fitted.value;
  return {
    nextPlace,
    factorOf: (id) => unitTime(curve, place.get(id) ?? 1) / curve.first,
    nextFactor: unitTime(curve, nextPlace) / curve.first,
    how: `a curve through the ${String(made.length)} finished ones, models and ways of working mixed`,
  };
}

/** What practice does to the next one, in a sentence. */
const practiceWords = (practice: Practice | undefined): string =>
  practice === undefined
    ? 'Nothing is known of practice here: no table is written, and too few own knives are finished or their hours do not fall.'
    : `The next one is number ${String(practice.nextPlace)} of its family; its work takes ${String(Math.round(practice.nextFactor * 100))} % by ${practice.how}.`;

export interface Past {
  readonly knives: readonly QuoteKnife[];
  readonly how: string;
  readonly practice: string;
  /** True where something is known of practice. */
  readonly practised: boolean;
}

const likenessOf = (knife: FinishedKnife): Likeness => ({
  modelId: knife.model_id,
  bladeNm: knife.blade_nm,
  steel: knife.steel,
  finish: knife.finish,
  method: knife.method,
});

function pastHow(count: number, asked: QuoteAsked): string {
  const since = asked.since === null ? '' : ` finished since ${asked.since}`;
  if (count === 0)
    return `No own knife of this model or its family${since === '' ? ' is finished yet' : ` is${since}`}: the model’s usual minutes are taken.`;
  const few = count < TOO_FEW ? ' Too few to say how they spread.' : '';
  const which =
    asked.among === 'nearest'
      ? 'nearest own knives'
      : asked.among === 'model'
        ? 'last own knives of this model'
        : 'last own knives of the family';
  return count === 1
    ? `One own knife${since}.${few}`
    : `The ${String(count)} ${which}${since}, the middle of them and not the best.${few}`;
}

/** Gathers the own knives a quote stands on. */
export function pastOf(db: ReadDb, wish: Wish, asked: QuoteAsked, decimals: number): Past {
  const found = finishedKnives(db, wish.model, { family: asked.among !== 'model', since: asked.since }).map(
    (knife) => ({ knife, near: nearnessOf(likenessOf(knife), wish.likeness) }),
  );
  const chosen =
    asked.among === 'nearest' ? nearestOf(found, { enough: TOO_FEW, most: MOST }) : found.slice(0, MOST);
  const ids = chosen.map(({ knife }) => knife.id);
  const practice = practiceIn(db, wish);
  const stages = groupBy(stageMinutes(db, ids), (row) => row.build_id);
  const costs = directCosts(db, ids, decimals);
  const knives = chosen.map(({ knife, near }): QuoteKnife => {
    const around = sumOf(
      (stages.get(knife.id) ?? []).filter((row) => AROUND.has(row.stage_code)),
      (row) => row.minutes,
    );
    const parts = { around, touched: knife.minutes - around, factor: practice?.factorOf(knife.id) ?? 1 };
    return {
      buildId: knife.id,
      serial: knife.serial,
      modelName: knife.model_name,
      finishedOn: knife.finished_on,
      bladeNm: knife.blade_nm,
      near: nearWords(near),
      minutes: knife.minutes,
      practisedMinutes: Math.round(atPlace(parts, practice?.nextFactor ?? 1)),
      directMinor: costs.get(knife.id)?.directMinor ?? 0,
    };
  });
  return {
    knives,
    how: pastHow(knives.length, asked),
    practice: practiceWords(practice),
    practised: practice !== undefined,
  };
}

/** Every way on with one knife, reckoned and ranked. */
import type { Parsed } from '../../api/contract.ts';
import { missing } from '../../api/errors.ts';
import { type WayKind, wayKinds, type WayPart, type WayRow, type WaysOn } from '../../api/ways.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { microToMinor } from '../../domain/money.ts';
import { figuresOfWay, ranked } from '../../domain/ways-on.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildRow } from '../../storage/queries/builds.ts';
import { modelRow, modelRows } from '../../storage/queries/models.ts';
import { decisionRows, usualChannel } from '../../storage/queries/ways.ts';
import { directCosts } from '../costs/direct.ts';
import { feeByRule, feeWords } from '../costs/fee-words.ts';
import { hourRates } from '../costs/hour-rates.ts';
import { houseOf } from '../costs/house.ts';
import { chancesOf } from './chances.ts';
import { doubtsOf } from './doubts.ts';
import { type HoursAhead, stageOver, stagesLeft, stagesOfModel, together } from './hours.ts';
import { asSecond, listPrice, plannedPrice, type Price } from './prices.ts';
import { materialAhead, sellingAhead } from './spend.ts';
import { sentenceOf, toDecision } from './words.ts';

type Asked = Pick<Parsed<'ways.reckon'>, 'buildId' | 'shortenTo' | 'known'>;

interface Ahead {
  readonly hours: HoursAhead;
  readonly spend: readonly WayPart[];
  readonly price: Price | undefined;
  readonly missing: string;
}

interface Knife {
  readonly id: string;
  readonly modelId: string;
  readonly today: string;
  readonly decimals: number;
}

const nothing: Ahead = {
  hours: together([]),
  spend: [],
  price: { minor: 0, how: 'nothing is sold' },
  missing: '',
};

function spendOf(db: ReadDb, knife: Knife, modelId: string): readonly WayPart[] {
  const asked = { modelId, buildId: knife.id, decimals: knife.decimals };
  return [...materialAhead(db, asked), ...sellingAhead(db, asked)];
}

/** What the knife still needs as its own model; `over` adds the last stage once more. */
function asItself(db: ReadDb, knife: Knife, over: boolean): Ahead {
  const stages = stagesOfModel(db, knife.modelId, knife.id);
  const again = over ? stageOver(db, knife.id, stages) : [];
  return {
    hours: together([...again, ...stagesLeft(db, knife.id, stages)]),
    spend: spendOf(db, knife, knife.modelId),
    price: plannedPrice(db, knife.id, knife.modelId, knife.today),
    missing: '',
  };
}

/** What it needs as a shorter model: that model's stages it has not behind it, and its shape once more. */
function asShorter(db: ReadDb, knife: Knife, modelId: string | undefined): Ahead {
  if (modelId === undefined) return { ...nothing, missing: 'Choose the model it could become.' };
  const stages = stagesOfModel(db, modelId, knife.id);
  const shape = stages.filter((stage) => stage.code === 'CUT');
  const left = stagesLeft(db, knife.id, stages).filter((stage) => stage.code !== 'CUT');
  return {
    hours: together([...shape, ...left]),
    spend: spendOf(db, knife, modelId),
    price: listPrice(db, modelId, knife.today),
    missing: '',
  };
}

function aheadOf(db: ReadDb, way: WayKind, knife: Knife, shortenTo: string | undefined): Ahead {
  if (way === 'scrap') return nothing;
  if (way === 'shorten') return asShorter(db, knife, shortenTo);
  const ahead = asItself(db, knife, way === 'rework');
  return way === 'second' ? { ...ahead, price: asSecond(db, ahead.price) } : ahead;
}

/** Models dearer first that cost less than the knife's own and share its family, else any that costs less. */
function shorterModels(db: ReadDb, modelId: string, today: string) {
  const all = modelRows(db, { on: today });
  const own = all.find((model) => model.id === modelId);
  const cheaper = all
    .filter((model) => model.id !== modelId && (model.price_minor ?? 0) > 0)
    .filter((model) => own?.price_minor == null || (model.price_minor ?? 0) < own.price_minor)
    .sort((a, b) => (b.price_minor ?? 0) - (a.price_minor ?? 0));
  return cheaper.map(({ id, code, name }) => ({ id, code, name }));
}

/** What the maker writes on a way takes the place of what was reckoned, and says so. */
function knownOf(asked: Asked, way: WayKind) {
  return asked.known.find((one) => one.way === way);
}

/**
 * Reckons every way.
 * @param today the local day whose prices and rates count
 * @throws FaultError for an unknown knife or model
 */
export function reckonWays(db: ReadDb, asked: Asked, today: string): WaysOn {
  const build = buildRow(db, asked.buildId);
  if (build === undefined) throw missing('This knife is not in the books any more. Go back to the list.');
  const { currency, decimals } = houseOf(db);
  const knife: Knife = { id: build.id, modelId: build.model_id, today, decimals };
  const models = shorterModels(db, build.model_id, today);
  const shortenTo = asked.shortenTo ?? models[0]?.id;
  if (asked.shortenTo !== undefined && modelRow(db, asked.shortenTo) === undefined)
    throw missing('This model is not in the books any more. Choose another.');
  const doubts = doubtsOf(db, build.id);
  const chances = chancesOf(db, doubts);
  const channel = usualChannel(db);
  const rateMicro =
    hourRates(db).find((rate) => rate.kind === 'labour' && rate.personId === null && rate.from_date <= today)
      ?.per_hour_micro ?? 0;
  const ratePerHourMinor = microToMinor(rateMicro, decimals);
  const rowOf = (way: WayKind) => {
    const ahead = aheadOf(db, way, knife, shortenTo);
    const known = knownOf(asked, way);
    const chance = chances[way];
    const priceMinor = known?.priceMinor ?? ahead.price?.minor ?? 0;
    const charge = { priceMinor, shippingMinor: 0, taxMinor: 0, abroad: false };
    const minutes = known?.minutes ?? ahead.hours.minutes;
    const spendMinor = known?.spendMinor ?? sumOf(ahead.spend, (part) => part.minor);
    const feeMinor = channel === undefined ? 0 : feeByRule(channel, charge);
    const chancePpm = known?.chancePpm ?? chance.chancePpm;
    const figures = figuresOfWay(
      { minutes, spendMinor, chancePpm, priceMinor, feeMinor, salvageMinor: 0 },
      ratePerHourMinor,
    );
    const row: WayRow = {
      way,
      minutes,
      minutesLow: known?.minutes ?? ahead.hours.low,
      minutesHigh: known?.minutes ?? ahead.hours.high,
      stages: ahead.hours.stages.map(({ code, name, minutes: own, from }) => ({
        code,
        name,
        minutes: own,
        from,
      })),
      spendMinor,
      spend:
        known?.spendMinor === undefined
          ? ahead.spend
          : [{ label: 'Still to spend', how: 'as you wrote', minor: spendMinor }],
      chancePpm,
      chanceHow: known?.chancePpm === undefined ? chance.how : 'as you wrote',
      priceMinor,
      priceHow: known?.priceMinor === undefined ? (ahead.price?.how ?? '') : 'as you wrote',
      feeMinor,
      feeHow: channel === undefined ? '' : feeWords(channel, priceMinor, false, currency),
      ...figures,
      missing:
        ahead.missing !== ''
          ? ahead.missing
          : ahead.price === undefined && known?.priceMinor === undefined
            ? 'It has no list price. Write what it would fetch.'
            : '',
      caution: chance.caution,
    };
    return { ...row, figures };
  };
  const order = ranked(wayKinds.map(rowOf)).map(({ figures: _figures, ...row }): WayRow => row);
  // What cannot be reckoned yet stands last, whatever its figures.
  const ways = [...order.filter((row) => row.missing === ''), ...order.filter((row) => row.missing !== '')];
  const directMinor = directCosts(db, [build.id], decimals).get(build.id)?.directMinor ?? 0;
  return {
    buildId: build.id,
    serial: build.serial,
    title: build.title,
    state: build.state,
    modelId: build.model_id,
    modelName: build.model_name,
    doubts: doubts.map((doubt) => doubt.words),
    sunk: {
      minutes: build.minutes,
      directMinor,
      atRateMinor: directMinor + mulDiv(build.minutes, ratePerHourMinor, 60),
    },
    ratePerHourMinor,
    ways,
    sentence: sentenceOf(ways),
    models,
    shortenTo: shortenTo ?? null,
    decisions: decisionRows(db, build.id).map(toDecision),
  };
}

/** Every way on with one knife, reckoned and ranked. */
import type { Parsed } from '../../api/contract.ts';
import { missing } from '../../api/errors.ts';
import { type WayKind, wayKinds, type WayRow, type WaysOn } from '../../api/ways.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { figuresOfWay, ranked } from '../../domain/ways-on.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buildRow } from '../../storage/queries/builds.ts';
import { modelRow } from '../../storage/queries/models.ts';
import { decisionRows } from '../../storage/queries/ways.ts';
import { directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';
import { type Ahead, aheadOf, type Knife, shorterModels } from './ahead.ts';
import { type Chance, chancesOf } from './chances.ts';
import { feeAhead } from './charge.ts';
import { doubtsOf } from './doubts.ts';
import { hourWorth, rateOn } from './hour-worth.ts';
import { sentenceOf, toDecision } from './words.ts';

type Asked = Pick<Parsed<'ways.reckon'>, 'buildId' | 'shortenTo' | 'known'>;
type Known = Asked['known'][number];

const BY_YOU = 'as you wrote';
const MINUTES_OF_HOUR = 60;

/** Hours and spending of a way; what the maker wrote takes the place of what was reckoned, and says so. */
function spending(ahead: Ahead, known: Known | undefined) {
  const spent = known?.spendMinor;
  const minutes = known?.minutes;
  return {
    minutes: minutes ?? ahead.hours.minutes,
    minutesLow: minutes ?? ahead.hours.low,
    minutesHigh: minutes ?? ahead.hours.high,
    stages: ahead.hours.stages.map((stage) => ({
      code: stage.code,
      name: stage.name,
      minutes: stage.minutes,
      from: stage.from,
    })),
    spendMinor: spent ?? sumOf(ahead.spend, (part) => part.minor),
    spend: spent === undefined ? ahead.spend : [{ label: 'Still to spend', how: BY_YOU, minor: spent }],
    sellingMinor: sumOf(ahead.selling, (part) => part.minor),
    selling: ahead.selling,
  };
}

/** Chance and price of a way. */
function bringing({ ahead, chance, known }: { ahead: Ahead; chance: Chance; known: Known | undefined }) {
  return {
    chancePpm: known?.chancePpm ?? chance.chancePpm,
    chanceHow: known?.chancePpm === undefined ? chance.how : BY_YOU,
    priceMinor: known?.priceMinor ?? ahead.price?.minor ?? 0,
    priceHow: known?.priceMinor === undefined ? (ahead.price?.how ?? '') : BY_YOU,
  };
}

const missingOf = (ahead: Ahead, known: Known | undefined): string => {
  if (ahead.missing !== '') return ahead.missing;
  const priced = ahead.price !== undefined || known?.priceMinor !== undefined;
  return priced ? '' : 'It has no list price. Write what it would fetch.';
};

interface Bench {
  readonly knife: Knife;
  readonly shortenTo: string | undefined;
  readonly chances: Readonly<Record<WayKind, Chance>>;
  readonly perHourMinor: number;
  readonly currency: string;
}

/** All ways from the best to the worst; what cannot be reckoned yet stands last, whatever its figures. */
function rowsOf(db: ReadDb, bench: Bench, asked: Asked): WayRow[] {
  const { knife, currency } = bench;
  const rowOf = (way: WayKind) => {
    const ahead = aheadOf(db, way, knife, bench.shortenTo);
    const known = asked.known.find((one) => one.way === way);
    const chance = bench.chances[way];
    const brought = bringing({ ahead, chance, known });
    const row = {
      way,
      ...spending(ahead, known),
      ...brought,
      ...feeAhead(db, { way, buildId: knife.id, currency }, brought.priceMinor),
      missing: missingOf(ahead, known),
      caution: chance.caution,
    };
    return { ...row, figures: figuresOfWay({ ...row, salvageMinor: 0 }, bench.perHourMinor) };
  };
  const order = ranked(wayKinds.map(rowOf)).map(({ figures, ...row }): WayRow => ({ ...row, ...figures }));
  return [...order.filter((row) => row.missing === ''), ...order.filter((row) => row.missing !== '')];
}

/**
 * Reckons every way.
 * @param today the local day whose prices and rates count
 * @throws FaultError for an unknown knife or model
 */
export function reckonWays(db: ReadDb, asked: Asked, today: string): WaysOn {
  const build = buildRow(db, asked.buildId);
  if (build === undefined) throw missing('This knife is not in the books any more. Go back to the list.');
  if (asked.shortenTo !== undefined && modelRow(db, asked.shortenTo) === undefined)
    throw missing('This model is not in the books any more. Choose another.');
  const { currency, decimals } = houseOf(db);
  const models = shorterModels(db, build.model_id, today);
  const shortenTo = asked.shortenTo ?? models[0]?.id;
  const doubts = doubtsOf(db, build.id);
  const ratePerHourMinor = rateOn(db, today, decimals);
  const knife = { id: build.id, modelId: build.model_id, today, decimals };
  const worth = hourWorth(db, today, decimals);
  const bench = { knife, shortenTo, chances: chancesOf(db, doubts), perHourMinor: worth.minor, currency };
  const ways = rowsOf(db, bench, asked);
  const directMinor = directCosts(db, [build.id], decimals).get(build.id)?.directMinor ?? 0;
  const atRateMinor = directMinor + mulDiv(build.minutes, ratePerHourMinor, MINUTES_OF_HOUR);
  return {
    buildId: build.id,
    serial: build.serial,
    title: build.title,
    state: build.state,
    modelId: build.model_id,
    modelName: build.model_name,
    doubts: doubts.map((doubt) => doubt.words),
    sunk: { minutes: build.minutes, directMinor, atRateMinor },
    ratePerHourMinor,
    hourMinor: worth.minor,
    hourHow: worth.how,
    ways,
    sentence: sentenceOf(ways),
    models,
    shortenTo: shortenTo ?? null,
    decisions: decisionRows(db, build.id).map(toDecision),
  };
}

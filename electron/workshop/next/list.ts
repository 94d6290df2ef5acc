/** Use-cases: what to make next, and the working of one model. */
import { missing } from '../../api/errors.ts';
import type { NextDetail, NextKnife, NextRow } from '../../api/next.ts';
import type { SaleRow } from '../../api/selling.ts';
import { groupBy } from '../../domain/groups.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import { MICRO_DECIMALS } from '../../domain/money.ts';
import { byNext, hourly, quartilesOf, standingOf } from '../../domain/next-up.ts';
import type { ReadDb } from '../../storage/db.ts';
import { demandByModel, minutesOnStages } from '../../storage/queries/offered.ts';
import { listSales } from '../../storage/queries/selling.ts';
import type { Clock } from '../context.ts';
import { hourRates, rateOn } from '../costs/hour-rates.ts';
import { houseOf } from '../costs/house.ts';
import { saleRows } from '../selling/sale-rows.ts';
import { listPrice } from '../ways/prices.ts';
import { type Offer, offersOf } from './offers.ts';
import { rackByModel } from './rack.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;
const MINUTES_OF_HOUR = 60;
/** Work around a finished knife: pictures, listing, packing, letters. */
const AROUND = ['PHO', 'LST', 'PCK', 'MSG'];

interface Asking {
  readonly db: ReadDb;
  readonly clock: Clock;
}

/** Everything the rows are reckoned from, fetched once. */
function gather({ db, clock }: Asking) {
  const standing = saleRows(db, listSales(db, {}, EVERY, 0)).filter((sale) => !sale.takenBack);
  return {
    decimals: houseOf(db).decimals,
    rates: hourRates(db),
    sales: new Map(standing.map((sale) => [sale.buildId, sale])),
    offers: groupBy(offersOf(db, clock), (offer) => offer.modelId),
    rack: rackByModel(db),
    around: new Map(minutesOnStages(db, AROUND).map((row) => [row.build_id, row.minutes])),
  };
}
type Gathered = ReturnType<typeof gather>;

/** Overhead of the bench hours of some sales, at the rate of each sale's day. */
function overheadOf(known: Gathered, sales: readonly SaleRow[]): number {
  return sumOf(sales, ({ on, minutes }) => {
    const rate = rateOn(known.rates, 'overhead', { on_date: on, person_id: null });
    const scale = MINUTES_OF_HOUR * 10 ** (MICRO_DECIMALS - known.decimals);
    return mulDiv(rate?.per_hour_micro ?? 0, minutes, scale);
  });
}

function earnings(known: Gathered, sales: readonly SaleRow[]) {
  const { pooledMinor, each } = hourly(sales);
  // A knife without hours says nothing of an hour, neither before overhead nor after it.
  const worked = sales.filter((sale) => sale.minutes > 0);
  const minutes = sumOf(worked, (sale) => sale.minutes);
  const left = sumOf(worked, (sale) => sale.contributionMinor) - overheadOf(known, worked);
  return {
    sold: sales.length,
    perHourMinor: pooledMinor,
    hourEach: each,
    afterOverheadMinor: minutes === 0 ? null : mulDiv(left, MINUTES_OF_HOUR, minutes),
  };
}

const named = ({ itemId, itemName }: NextDetail['parts'][number]) => ({ itemId, itemName });

type Model = ReturnType<typeof demandByModel>[number];

const salesOf = (known: Gathered, offers: readonly Offer[]): SaleRow[] =>
  offers.flatMap((offer) => known.sales.get(offer.record.id) ?? []);

function toRow(asking: Asking, known: Gathered, model: Model): NextRow {
  const offers = known.offers.get(model.id) ?? [];
  const earned = earnings(known, salesOf(known, offers));
  const worked = offers.map((offer) => offer.record).filter((record) => record.minutes > 0);
  const free = offers.filter((offer) => !offer.forOrder);
  const unsoldDays = free.filter((offer) => offer.soldOn === null).map((offer) => offer.days);
  const days = quartilesOf(free.filter((offer) => offer.soldOn !== null).map((offer) => offer.days));
  const parts = known.rack.get(model.id) ?? [];
  const main = parts.filter((part) => part.main);
  const canMake = main[0]?.enoughFor ?? null;
  const { promised, asked, quoted, coming } = model;
  return {
    modelId: model.id,
    code: model.code,
    name: model.name,
    family: model.family,
    method: model.method,
    standing: standingOf({ promised, asked, quoted, coming, unsoldDays, soldDays: days, sold: earned.sold }),
    listMinor: listPrice(asking.db, model.id, asking.clock.today())?.minor ?? null,
    ...earned,
    minutes: quartilesOf(worked.map((record) => record.minutes)),
    aroundMinutes: quartilesOf(worked.map((record) => known.around.get(record.id) ?? 0))?.middle ?? 0,
    days,
    promised,
    asked,
    quoted,
    coming,
    unsold: unsoldDays.length,
    unsoldDays: unsoldDays.length === 0 ? null : Math.max(...unsoldDays),
    canMake,
    endsWith: main.filter((part) => part.enoughFor === canMake).map(named),
    buyFirst: parts.filter((part) => !part.main && part.enoughFor < 1).map(named),
  };
}

/** Every model in use, the one that speaks most for itself first. */
export function nextList(asking: Asking): NextRow[] {
  const known = gather(asking);
  return byNext(demandByModel(asking.db, asking.clock.today()).map((model) => toRow(asking, known, model)));
}

function toKnife(offer: Offer, sale: SaleRow | undefined): NextKnife {
  const { record } = offer;
  return {
    buildId: record.id,
    serial: record.serial,
    method: record.method,
    minutes: record.minutes,
    finishedOn: record.finished_on,
    soldOn: offer.soldOn,
    second: record.flaw !== '',
    forOrder: offer.forOrder,
    contributionMinor: sale?.contributionMinor ?? null,
    perHourMinor: sale === undefined ? null : hourly([sale]).pooledMinor,
    days: offer.days,
  };
}

/** One model with the knives, finishes and parts its row stands on. @throws FaultError for a model not in use */
export function nextModel(asking: Asking, modelId: string): NextDetail {
  const known = gather(asking);
  const model = demandByModel(asking.db, asking.clock.today()).find((one) => one.id === modelId);
  if (model === undefined) throw missing('This model is not in use any more. Choose another.');
  const offers = known.offers.get(modelId) ?? [];
  const finishes = groupBy(salesOf(known, offers), (sale) => methodOf(offers, sale.buildId));
  return {
    row: toRow(asking, known, model),
    knives: offers.map((offer) => toKnife(offer, known.sales.get(offer.record.id))).toReversed(),
    finishes: [...finishes].map(([method, sales]) => {
      const { sold, perHourMinor, hourEach } = earnings(known, sales);
      return { method, sold, perHourMinor, hourEach };
    }),
    parts: known.rack.get(modelId) ?? [],
  };
}

const methodOf = (offers: readonly Offer[], buildId: string): string =>
  offers.find((offer) => offer.record.id === buildId)?.record.method ?? '';

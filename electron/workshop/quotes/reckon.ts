/** Use-case: everything a quote stands on, reckoned from the books of a day. Writes nothing. */
import type { QuoteAsked, QuoteReckoning } from '../../api/quotes.ts';
import { sumOf } from '../../domain/integers.ts';
import { formatMinor, formatMicro, microToMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { houseOf } from '../costs/house.ts';
import { demandHoldable } from '../selling/reckon.ts';
import { type Charges, chargesOf } from './charges.ts';
import { type Bill, floorSpan, floorView, namedOf } from './floor.ts';
import { goodsOf } from './goods.ts';
import { hoursOf, rateFor } from './hours.ts';
import { leadOf, promiseWarning } from './lead.ts';
import { pastOf, spreadIn } from './past.ts';
import { baseView, fetchedView, lineView } from './views.ts';
import { wishOf } from './wish.ts';

type Views = Pick<QuoteReckoning, 'floor' | 'base' | 'named'>;

/** What to think twice about in the prices. */
function priceWarnings({ house, labour, overhead, goods, charges }: Bill, views: Views): string[] {
  const money = (minor: number): string => formatMinor(minor, house.currency, { symbol: true });
  const floor = views.floor.totalMinor;
  const base = views.base.totalMinor;
  const { named } = views;
  const rate = microToMinor(labour.perHourMicro, house.decimals);
  const short = named?.perHourMinor != null && named.perHourMinor < rate;
  return [
    ...(labour.perHourMicro === 0
      ? ['Your own rate is nothing: the floor pays goods, posting, fee and overhead, and not your hours.']
      : []),
    ...(overhead.perHourMicro === 0
      ? ['No overhead is reckoned with: rent, insurance and tools come out of your hours then.']
      : []),
    ...(floor !== null && base !== null && floor > base
      ? [`The floor lies ${money(floor - base)} above list price and options.`]
      : []),
    ...(named !== null && short
      ? [
          `At ${money(named.totalMinor)} an hour brings ${money(named.perHourMinor)} after overhead, not the ${formatMicro(labour.perHourMicro, house.currency, 2, { symbol: true })} wished for.`,
        ]
      : []),
    ...(goods.unknown.length === 0
      ? []
      : [`Nobody knows what ${goods.unknown.join(', ')} costs: never bought. The floor leaves it out.`]),
    ...(charges.postageMinor === 0 ? ['Posting it is reckoned at nothing. Write what it will cost.'] : []),
  ];
}

const placeOf = ({ place }: Charges): QuoteReckoning['taxPlace'] => ({
  id: place.id,
  name: place.name,
  ratePpm: place.rate_ppm,
  inclusive: place.inclusive === 1,
});

function billOf(
  db: ReadDb,
  asked: QuoteAsked,
  bill: Omit<Bill, 'house' | 'asked' | 'labour' | 'overhead' | 'goods' | 'optionsMinor'>,
  today: string,
): Bill {
  const house = houseOf(db);
  return {
    ...bill,
    house,
    asked,
    goods: goodsOf(db, asked.modelId, house),
    labour: rateFor(db, 'labour', asked.labourPerHourMicro, today),
    overhead: rateFor(db, 'overhead', asked.overheadPerHourMicro, today),
    optionsMinor: sumOf(asked.options, (option) => option.priceMinor),
  };
}

/** @throws FaultError for an amount the books could not hold */
function demandAmounts(db: ReadDb, asked: QuoteAsked): void {
  demandHoldable(
    {
      priceMinor: (asked.priceMinor ?? 0) + asked.specialMinor,
      shippingMinor: asked.shippingMinor ?? 0,
      postagePaidMinor: (asked.postageMinor ?? 0) + (asked.directMinor ?? 0) + asked.extraCostMinor,
    },
    houseOf(db).decimals,
  );
}

/**
 * Reckons a quote.
 * @param today the local day whose prices and rates count
 * @throws FaultError for a model, channel or tax place that is not in the books
 */
export function reckonQuote(db: ReadDb, asked: QuoteAsked, today: string): QuoteReckoning {
  demandAmounts(db, asked);
  const { currency, decimals, shop } = houseOf(db);
  const wish = wishOf(db, asked);
  const past = pastOf(db, wish, asked, decimals);
  const charges = chargesOf(db, asked);
  const bill = billOf(db, asked, { charges, hours: hoursOf(db, asked, past) }, today);
  const { goods, optionsMinor } = bill;
  const inches = shop.length_habit === 'inch';
  const viewed = { asked, wish, charges, currency, inches, today, optionsMinor };
  const views = { floor: floorView(bill), base: baseView(db, viewed), named: namedOf(bill) };
  const days = leadOf(db, wish.model.id, bill.hours, today);
  const promise = promiseWarning(days, asked.promisedOn);
  const { modelId: _id, ...likeness } = wish.likeness;
  return {
    model: { id: wish.model.id, code: wish.model.code, name: wish.model.name },
    ...likeness,
    nearest: past.knives,
    nearestHow: past.how,
    hours: bill.hours,
    directMinor: asked.directMinor ?? goods.minor,
    direct: goods.lines,
    directHow:
      asked.directMinor === null
        ? 'The model’s usual parts at what they would cost today: the price paid last, with its freight.'
        : 'As you wrote.',
    directBefore: spreadIn(past.knives.map((knife) => knife.directMinor)),
    extraCostMinor: asked.extraCostMinor,
    labour: bill.labour,
    overhead: bill.overhead,
    channel: { id: charges.channel.id, name: charges.channel.name, how: charges.channelHow },
    taxPlace: placeOf(charges),
    shippingMinor: charges.shippingMinor,
    shippingHow: charges.shippingHow,
    postageMinor: charges.postageMinor,
    postageHow: charges.postageHow,
    optionsMinor,
    specialMinor: asked.specialMinor,
    ...views,
    ...floorSpan(bill),
    line: lineView(db, viewed),
    fetched: fetchedView(db, viewed),
    ...days,
    warnings: [...priceWarnings(bill, views), ...(promise === '' ? [] : [promise])],
  };
}

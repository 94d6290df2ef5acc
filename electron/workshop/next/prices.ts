/** Use-case: what prices did to how fast knives went. */
import type { PriceReview, PriceSpan } from '../../api/next.ts';
import { groupBy } from '../../domain/groups.ts';
import { priceChanges, priceHint, sumOffers } from '../../domain/price-review.ts';
import type { ReadDb } from '../../storage/db.ts';
import { allPrices } from '../../storage/queries/offered.ts';
import type { Clock } from '../context.ts';
import { type Offer, offersOf } from './offers.ts';

type Price = ReturnType<typeof allPrices>[number];
const PPM = 1_000_000;

/** Each price of a model with the knives first offered under it. @param prices oldest first */
function spansOf(prices: readonly Price[], offers: readonly Offer[]): PriceSpan[] {
  return prices.map((price, at) => {
    const until = prices[at + 1]?.from_date ?? null;
    const before = prices[at - 1]?.price_minor;
    const under = offers.filter(
      ({ offeredOn }) => (at === 0 || offeredOn >= price.from_date) && (until === null || offeredOn < until),
    );
    return {
      from: price.from_date,
      until,
      priceMinor: price.price_minor,
      changePpm:
        before === undefined || before === 0
          ? null
          : Math.round(((price.price_minor - before) * PPM) / before),
      ...sumOffers(under),
    };
  });
}

function toldBy(offers: readonly Offer[]): PriceReview['told'] {
  return offers
    .flatMap((offer) => {
      const hint = priceHint(offer.days, offer.minutes);
      if (hint === null) return [];
      const { record, offeredOn, soldOn, days, minutes } = offer;
      return [
        {
          buildId: record.id,
          serial: record.serial,
          modelName: record.model_name,
          askedMinor: record.asked_minor ?? record.price_minor,
          ...{ offeredOn, soldOn, days, minutes, hint },
        },
      ];
    })
    .toSorted((a, b) => (a.offeredOn < b.offeredOn ? 1 : -1));
}

/** Every change of price with what was before and after it; knives made for an order or sold as seconds are left out. */
export function priceReview({ db, clock }: { readonly db: ReadDb; readonly clock: Clock }): PriceReview {
  const offers = offersOf(db, clock).filter((offer) => !offer.forOrder && offer.record.flaw === '');
  const prices = allPrices(db).filter((price) => price.from_date <= clock.today());
  const own = groupBy(offers, (offer) => offer.modelId);
  return {
    changes: priceChanges(
      prices.map((price) => ({
        modelId: price.model_id,
        from: price.from_date,
        priceMinor: price.price_minor,
      })),
      offers,
    ),
    models: [...groupBy(prices, (price) => price.model_id)].flatMap(([modelId, rows]) => {
      const [first] = rows;
      if (first === undefined) return [];
      return [{ modelId, code: first.code, name: first.name, spans: spansOf(rows, own.get(modelId) ?? []) }];
    }),
    told: toldBy(offers),
  };
}

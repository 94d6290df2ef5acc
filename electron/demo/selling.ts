/** Packing, posting and selling. */
import { cents } from './amounts.ts';
import { bench, endStages } from './knives.ts';
import { minutesFor } from './learning.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { deliverOrder, type OrderBook } from './orders.ts';
import { looked, postageOf } from './postage.ts';
import { batches, type DemoBuild } from './tables/builds.ts';
import { models, type Variant } from './tables/models.ts';
import { buyers } from './tables/people.ts';
import { sales, type DemoSale } from './tables/sales.ts';
import { newPricesFrom } from './tables/setting.ts';

/** List price on a day, as the price list says. */
function listPrice(variant: Variant, on: string): string {
  const { price, priceLater } = models[variant];
  const now = on >= newPricesFrom ? (priceLater ?? price) : price;
  if (now === null) throw new Error(`${variant} is sold by quote; its sale needs a price`);
  return now;
}

async function sell(ledger: Ledger, book: OrderBook, sale: DemoSale, variant: Variant): Promise<void> {
  const { ask, house } = ledger;
  const { where } = buyers[sale.buyer];
  const abroad = where === 'abroad';
  const priceMinor = cents(sale.price ?? listPrice(variant, sale.on));
  const postage = postageOf(variant, priceMinor, abroad);
  const parcel = { buildId: idOf(ledger, sale.serial), buyerId: house.buyers[sale.buyer], abroad };
  const ticks = await looked(ask, parcel);
  if (sale.order !== undefined) {
    const { order: key, on } = sale;
    await deliverOrder(ledger, book, { key, on, postagePaidMinor: postage.paid, ticks });
    return;
  }
  await ask('selling.sell', {
    ...parcel,
    ticks,
    channelId: house.channelId,
    taxPlaceId: house.places[where],
    on: sale.on,
    priceMinor,
    shippingMinor: postage.charged,
    postagePaidMinor: postage.paid,
    invoice: true,
    paidBy: 'card',
  });
}

/** Packing and selling on the day of sale. */
function saleSteps(book: OrderBook, sale: DemoSale, build: DemoBuild, start: string): readonly Step[] {
  const { on, serial } = sale;
  const minutes = minutesFor({ start }, build).get('PCK') ?? 0;
  return [
    bench({ on, stageCode: 'PCK', shares: [{ serial, minutes }] }),
    { on, order: 5, run: (ledger) => endStages(ledger, build, on, ['PCK']) },
    { on, order: 6, run: (ledger) => sell(ledger, book, sale, build.variant) },
  ];
}

/** Every sale. */
export const sellingSteps = (book: OrderBook): readonly Step[] => {
  const known = new Map(
    batches.flatMap((batch) => batch.builds.map((build) => [build.serial, { build, start: batch.start }])),
  );
  return sales.flatMap((sale) => {
    const found = known.get(sale.serial);
    if (found === undefined) throw new Error(`${sale.serial} is sold but never built`);
    return saleSteps(book, sale, found.build, found.start);
  });
};

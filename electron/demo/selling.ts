/** Packing, posting and selling. */
import { mulDiv } from '../domain/integers.ts';
import { cents } from './amounts.ts';
import { bench, endStages } from './knives.ts';
import { minutesFor } from './learning.ts';
import { idOf, type Ledger, type Step } from './ledger.ts';
import { batches, type DemoBuild } from './tables/builds.ts';
import { models, type Variant } from './tables/models.ts';
import { buyers } from './tables/people.ts';
import { sales, type DemoSale } from './tables/sales.ts';
import { newPricesFrom } from './tables/setting.ts';

/** Knives up to 90 mm and petty knives go in the small box. */
const smallBox: readonly Variant[] = ['PAR', 'PET'];

/** What posting costs: a base and 1.1 % cover of the price, a signature from 300.00; abroad one rate. */
function postageOf(variant: Variant, priceMinor: number, abroad: boolean): { charged: number; paid: number } {
  if (abroad) return { charged: cents('48.00'), paid: cents('46.20') };
  const small = smallBox.includes(variant);
  const base = cents(small ? '10.40' : '13.90') + (priceMinor >= cents('300.00') ? cents('3.75') : 0);
  return { charged: cents(small ? '12.00' : '18.00'), paid: base + mulDiv(priceMinor, 11, 1000) };
}

/** List price on a day, as the price list says. */
function listPrice(variant: Variant, on: string): string {
  const { price, priceLater } = models[variant];
  const now = on >= newPricesFrom ? (priceLater ?? price) : price;
  if (now === null) throw new Error(`${variant} is sold by quote; its sale needs a price`);
  return now;
}

async function sell(ledger: Ledger, sale: DemoSale, variant: Variant): Promise<void> {
  const { ask, house } = ledger;
  const { where } = buyers[sale.buyer];
  const abroad = where === 'abroad';
  const priceMinor = cents(sale.price ?? listPrice(variant, sale.on));
  const postage = postageOf(variant, priceMinor, abroad);
  await ask('selling.sell', {
    buildId: idOf(ledger, sale.serial),
    buyerId: house.buyers[sale.buyer],
    channelId: house.channelId,
    taxPlaceId: house.places[where],
    on: sale.on,
    priceMinor,
    shippingMinor: postage.charged,
    postagePaidMinor: postage.paid,
    abroad,
    invoice: true,
    paidBy: 'card',
  });
}

/** Packing and selling on the day of sale. */
function saleSteps(sale: DemoSale, build: DemoBuild, start: string): readonly Step[] {
  const { on, serial } = sale;
  const minutes = minutesFor({ start }, build).get('PCK') ?? 0;
  return [
    bench({ on, stageCode: 'PCK', shares: [{ serial, minutes }] }),
    { on, order: 5, run: (ledger) => endStages(ledger, build, on, ['PCK']) },
    { on, order: 6, run: (ledger) => sell(ledger, sale, build.variant) },
  ];
}

/** Every sale. */
export const sellingSteps = (): readonly Step[] => {
  const known = new Map(
    batches.flatMap((batch) => batch.builds.map((build) => [build.serial, { build, start: batch.start }])),
  );
  return sales.flatMap((sale) => {
    const found = known.get(sale.serial);
    if (found === undefined) throw new Error(`${sale.serial} is sold but never built`);
    return saleSteps(sale, found.build, found.start);
  });
};

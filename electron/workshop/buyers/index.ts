/** Use-cases of buyers in full: addresses, supporter levels, merging, forgetting, exchange. */
import type { BuyerExport, buyerEndpoints, DeliveryAddress } from '../../api/buyers.ts';
import { allAddresses, countBuyers, listBuyers } from '../../storage/queries/buyers.ts';
import { supportersOn } from '../../storage/queries/supporters.ts';
import { taxPlaceRows } from '../../storage/queries/workshop.ts';
import type { QueryContext } from '../context.ts';
import { totalOf } from '../page-total.ts';
import type { Handlers } from '../handlers.ts';
import { erase, eraseLook } from './erase.ts';
import { levels, saveLevel } from './levels.ts';
import { keepApart, merge, twins } from './merge.ts';
import { mergeLook } from './merge-look.ts';
import { buyerPage, toAddress, toBuyerRow } from './rows.ts';
import { saveAddress, saveBuyer } from './save.ts';
import { dropSpan, endSupport, saveSpan, support, supporters } from './support.ts';

function everyone({ db, clock }: QueryContext, includeArchived: boolean): readonly BuyerExport[] {
  const today = clock.today();
  const places = new Map(taxPlaceRows(db).map((place) => [place.id, place.name]));
  const since = new Map(supportersOn(db, today).map((row) => [row.buyer_id, row.from_on]));
  const addresses = new Map<string, DeliveryAddress[]>();
  for (const row of allAddresses(db)) {
    const others = addresses.get(row.buyer_id);
    if (others) others.push(toAddress(row));
    else addresses.set(row.buyer_id, [toAddress(row)]);
  }
  return listBuyers(db, { text: '', includeArchived }, { limit: -1, offset: 0, today })
    .filter((record) => record.erased_on === null)
    .map((record) => ({
      ...toBuyerRow(record),
      taxPlace: places.get(record.tax_place_id ?? '') ?? '',
      supporterSince: since.get(record.id) ?? null,
      addresses: addresses.get(record.id) ?? [],
    }));
}

/** Which use-case answers which call. */
export const buyerHandlers: Pick<Handlers, keyof typeof buyerEndpoints> = {
  'selling.buyers': ({ db, clock }, input) => {
    const rows = listBuyers(db, input, { ...input, today: clock.today() }).map(toBuyerRow);
    return { rows, total: totalOf(rows, input, () => countBuyers(db, input)) };
  },
  'selling.buyer': (ctx, { id }) => buyerPage(ctx, id),
  'selling.saveBuyer': { run: (ctx, input) => saveBuyer(ctx, input) },
  'buyers.saveAddress': { run: (ctx, input) => saveAddress(ctx, input) },
  'buyers.levels': ({ db, clock }) => levels(db, clock.today()),
  'buyers.saveLevel': { run: (ctx, input) => saveLevel(ctx, input) },
  'buyers.support': { run: (ctx, input) => support(ctx, input) },
  'buyers.endSupport': { run: (ctx, input) => endSupport(ctx, input) },
  'buyers.saveSpan': { run: (ctx, input) => saveSpan(ctx, input) },
  'buyers.dropSpan': { run: (ctx, { id }) => dropSpan(ctx, id) },
  'buyers.supporters': (ctx) => supporters(ctx),
  'buyers.twins': (ctx) => twins(ctx),
  'buyers.keepApart': { run: (ctx, input) => keepApart(ctx, input) },
  'buyers.merge': { run: (ctx, input) => merge(ctx, input) },
  'buyers.mergeLook': (ctx, input) => mergeLook(ctx, input),
  'buyers.eraseLook': (ctx, { id }) => eraseLook(ctx, id),
  'buyers.erase': { run: (ctx, { id }) => erase(ctx, id) },
  'buyers.export': (ctx, { includeArchived }) => everyone(ctx, includeArchived),
};

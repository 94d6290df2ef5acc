/** Use-case: who bought twice, and whose wish fits what is about to be finished. */
import type { Again } from '../../api/asked.ts';
import { groupBy } from '../../domain/groups.ts';
import { sumOf } from '../../domain/integers.ts';
import { boughtModels, freeKnives, openWishes } from '../../storage/queries/asked.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { listSales } from '../../storage/queries/selling.ts';
import type { QueryContext } from '../context.ts';
import { saleRows } from '../selling/sale-rows.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;

/** Buyers of two knives or more, and open wishes, each with the knives that may suit. */
export function again({ db, clock }: Pick<QueryContext, 'db' | 'clock'>): Again {
  const free = groupBy(
    freeKnives(db, clock.now()).map((row) => ({
      modelId: row.model_id,
      knife: { buildId: row.id, serial: row.serial, state: row.state },
    })),
    (row) => row.modelId,
  );
  const knivesOf = (modelId: string | null) => (free.get(modelId ?? '') ?? []).map((row) => row.knife);
  const sales = new Map(saleRows(db, listSales(db, {}, EVERY, 0)).map((sale) => [sale.id, sale]));
  const buyers = [...groupBy(boughtModels(db), (row) => row.buyer_id)].flatMap(([buyerId, bought]) => {
    const last = bought.at(-1);
    if (last === undefined || bought.length < 2) return [];
    const models = [...new Set(bought.map((row) => row.model_id))];
    return [
      {
        buyerId,
        name: last.name,
        knives: bought.length,
        salesMinor: sumOf(bought, (row) => sales.get(row.id)?.priceMinor ?? 0),
        lastOn: last.on_date,
        mayLike: models.flatMap(knivesOf),
      },
    ];
  });
  return {
    buyers: buyers.toSorted((a, b) => (a.lastOn < b.lastOn ? 1 : a.lastOn > b.lastOn ? -1 : 0)),
    wishes: openWishes(db).map((row) => ({
      orderId: row.id,
      tag: orderTagOf(row.number),
      buyerId: row.buyer_id,
      buyerName: row.buyer_name,
      modelName: row.model_name ?? '',
      wish: row.wish,
      askedOn: row.asked_on,
      knives: knivesOf(row.model_id),
    })),
  };
}

/** Use-case: shipping charged against what parcels cost. */
import type { PostageRow } from '../../api/asked.ts';
import { groupBy } from '../../domain/groups.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { listSales } from '../../storage/queries/selling.ts';
import { standingOf } from '../costs/net.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;

/** By year, at home and abroad; a parcel of a sale taken back was paid all the same. */
export function postageByYear(db: ReadDb): PostageRow[] {
  const sales = listSales(db, {}, EVERY, 0);
  const groups = groupBy(sales, (sale) => `${sale.on_date.slice(0, 4)} ${String(sale.abroad)}`);
  return [...groups.values()].flatMap((own) => {
    const [first] = own;
    if (first === undefined) return [];
    const chargedMinor = sumOf(own, (sale) =>
      sale.taken_back_on === null ? standingOf(sale).shippingMinor : 0,
    );
    const paidMinor = sumOf(own, (sale) => sale.postage_paid_minor);
    return [
      {
        year: first.on_date.slice(0, 4),
        abroad: first.abroad === 1,
        // What was handed over was no parcel.
        parcels: own.filter((sale) => sale.shipping_minor > 0 || sale.postage_paid_minor > 0).length,
        ...{ chargedMinor, paidMinor, lostMinor: paidMinor - chargedMinor },
      },
    ];
  });
}

/** Use-case: shipping charged against what parcels cost. */
import type { PostageRow } from '../../api/asked.ts';
import { groupBy } from '../../domain/groups.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { listSales } from '../../storage/queries/selling.ts';
import { servicePostage } from '../../storage/queries/year-books.ts';
import { standingOf } from '../costs/net.ts';

/** All sales of any period one maker can have. */
const EVERY = 1_000_000;
const EVER = { from: '0000-01-01', to: '9999-12-31' };

/** A parcel of a sale taken back was paid all the same. */
function ofSales(db: ReadDb): PostageRow[] {
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
        where: first.abroad === 1 ? 'abroad' : 'home',
        // What was handed over was no parcel.
        parcels: own.filter((sale) => sale.shipping_minor > 0 || sale.postage_paid_minor > 0).length,
        ...{ chargedMinor, paidMinor, lostMinor: paidMinor - chargedMinor },
      },
    ];
  });
}

/** Nothing is charged for such a parcel by itself, so nothing is lost on it. */
const ofService = (db: ReadDb): PostageRow[] =>
  [...groupBy(servicePostage(db, EVER), (row) => row.on_date.slice(0, 4))].map(([year, own]) => ({
    year,
    where: 'service',
    parcels: own.length,
    chargedMinor: 0,
    paidMinor: sumOf(own, (row) => row.postage_paid_minor),
    lostMinor: 0,
  }));

const ORDER: readonly PostageRow['where'][] = ['home', 'abroad', 'service'];

/** By year, the last one first: at home, abroad, and back after service. */
export const postageByYear = (db: ReadDb): PostageRow[] =>
  [...ofSales(db), ...ofService(db)].toSorted(
    (a, b) => Number(b.year) - Number(a.year) || ORDER.indexOf(a.where) - ORDER.indexOf(b.where),
  );

/** Lists that go with the sheet: sales tax by quarter and place, trips, assets. */
import type { SheetAsset, SheetTax, SheetTrips } from '../../api/preparer.ts';
import { addDays, addMonths } from '../../domain/calendar.ts';
import { basisOf, schedule } from '../../domain/depreciation.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { Span } from '../../storage/queries/expenses.ts';
import { type AssetRow, assetRows, mileageRows } from '../../storage/queries/money.ts';
import type { SaleRecord } from '../../storage/queries/selling.ts';
import {
  paymentsWithBefore,
  salesWithoutInvoice,
  taxDueIn,
  taxPlaceNames,
} from '../../storage/queries/sheet-money.ts';
import { depreciable, depreciationIn, ownYears } from '../money/depreciation.ts';
import { netOf } from '../costs/net.ts';
import { taxInside } from './receipts.ts';

/** Quarters of a year from its own first day; the last one ends with the year. */
function quartersOf({ from, to }: Span): readonly Span[] {
  const quarters: Span[] = [];
  for (let at = 0, start = from; start <= to; at += 1) {
    const next = addMonths(from, 3 * (at + 1));
    const end = addDays(next, -1);
    quarters.push({ from: start, to: end < to ? end : to });
    start = next;
  }
  return quarters;
}

interface TaxPart {
  readonly place: string;
  readonly ratePpm: number;
  readonly baseMinor: number;
  readonly dueMinor: number;
  readonly collectedMinor: number;
}

function collected(db: ReadDb, quarter: Span): readonly TaxPart[] {
  return paymentsWithBefore(db, quarter).map((row) => ({
    ...{ place: row.place, ratePpm: row.rate_ppm, baseMinor: 0, dueMinor: 0 },
    collectedMinor: taxInside(row),
  }));
}

/** Sales without an invoice of their own: due and collected on their day. */
function onTheSpot(db: ReadDb, quarter: Span, sales: readonly SaleRecord[]): readonly TaxPart[] {
  const alone = new Set(salesWithoutInvoice(db, quarter));
  const places = taxPlaceNames(db);
  return sales
    .filter((sale) => alone.has(sale.id) && sale.taken_back_on === null)
    .map((sale) => ({
      place: places.get(sale.tax_place_id ?? '') ?? sale.tax_label,
      ratePpm: sale.tax_rate_ppm,
      baseMinor: netOf(sale).taxBaseMinor,
      dueMinor: sale.tax_minor,
      collectedMinor: sale.tax_minor,
    }));
}

/** Sales tax of a year, quarter by quarter and place by place; only where there is any. */
export const taxOf = (db: ReadDb, span: Span, sales: readonly SaleRecord[]): readonly SheetTax[] =>
  quartersOf(span).flatMap((quarter) => {
    const due = taxDueIn(db, quarter).map((row) => ({
      ...{ place: row.place, ratePpm: row.rate_ppm, baseMinor: row.base_minor },
      ...{ dueMinor: row.due_minor, collectedMinor: 0 },
    }));
    const groups = new Map<string, TaxPart>();
    for (const part of [...due, ...collected(db, quarter), ...onTheSpot(db, quarter, sales)]) {
      const key = `${part.place} ${String(part.ratePpm)}`;
      const before = groups.get(key);
      groups.set(key, {
        ...part,
        baseMinor: part.baseMinor + (before?.baseMinor ?? 0),
        dueMinor: part.dueMinor + (before?.dueMinor ?? 0),
        collectedMinor: part.collectedMinor + (before?.collectedMinor ?? 0),
      });
    }
    return [...groups.values()]
      .filter((part) => part.dueMinor !== 0 || part.collectedMinor !== 0)
      .map((part) => ({ ...quarter, ...part }));
  });

/** Trips of a year by the unit they were written in; those taken back are off. */
export function tripsOf(db: ReadDb, span: Span): readonly SheetTrips[] {
  const rows = mileageRows(db, span).filter((row) => row.reverses_id === null && row.reversed_by_id === null);
  return (['mi', 'km'] as const)
    .map((unit) => rows.filter((row) => row.unit === unit))
    .flatMap((some) => {
      const [first] = some;
      if (first === undefined) return [];
      return {
        unit: first.unit === 'km' ? ('km' as const) : ('mi' as const),
        trips: some.length,
        distanceMilli: sumOf(some, (row) => row.distance_milli),
        amountMinor: sumOf(some, (row) => row.amount_minor),
      };
    });
}

const methodWords = (row: AssetRow): string => {
  if (row.method === 'atOnce') return 'written off at once';
  if (row.method === 'table') return `published table, ${String(row.class_years)} years`;
  return `straight line, ${String(row.life_months)} months`;
};

/** Assets the workshop had in the year, with what was written off of them. */
export function assetsOf(db: ReadDb, span: Span): readonly SheetAsset[] {
  const inYear = new Map(depreciationIn(db, span).map((line) => [line.assetId, line.minor]));
  return assetRows(db)
    .filter(
      (row) => row.in_service_on <= span.to && (row.disposed_on === null || row.disposed_on >= span.from),
    )
    .map((row) => {
      const thing = depreciable(row);
      const before = schedule(thing, ownYears(db, thing)).filter(({ to }) => to < span.from);
      const beforeMinor = sumOf(before, (year) => year.minor);
      const yearMinor = inYear.get(row.id) ?? 0;
      const gone = row.disposed_on !== null && row.disposed_on <= span.to;
      return {
        ...{ id: row.id, name: row.name, boughtOn: row.bought_on, inServiceOn: row.in_service_on },
        ...{ costMinor: row.cost_minor, sharePpm: row.share_ppm, method: methodWords(row) },
        ...{ yearMinor, beforeMinor, leftMinor: gone ? 0 : basisOf(thing) - beforeMinor - yearMinor },
        ...{ disposedOn: gone ? row.disposed_on : null, proceedsMinor: gone ? row.proceeds_minor : 0 },
      };
    });
}

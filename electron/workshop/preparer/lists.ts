/** Lists that go with the sheet: sales tax by quarter and place, trips, assets. */
import type { SheetAsset, SheetTax, SheetTrips } from '../../api/preparer.ts';
import { addDays, addMonths } from '../../domain/calendar.ts';
import { basisOf, schedule } from '../../domain/depreciation.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { Span } from '../../storage/queries/expenses.ts';
import { type AssetRow, assetRows, mileageRows } from '../../storage/queries/money.ts';
import { taxDueIn } from '../../storage/queries/sheet-money.ts';
import { depreciable, ownYears } from '../money/depreciation.ts';
import type { YearFacts } from '../year/gather.ts';

/** Quarters of a year from its own first day; the last one ends with the year, of 53 weeks too. */
function quartersOf({ from, to }: Span): readonly Span[] {
  const quarters: Span[] = [];
  for (let at = 0, start = from; start <= to; at += 1) {
    const next = addMonths(from, 3 * (at + 1));
    const end = addDays(next, -1);
    const isLast = at === 3 || end >= to;
    quarters.push({ from: start, to: isLast ? to : end });
    if (isLast) break;
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

/** The tax in what was paid in a quarter; a sale without an invoice of its own owes and pays it on its day. */
const collected = (facts: YearFacts, { from, to }: Span): readonly TaxPart[] =>
  facts.cash.receipts
    .filter(({ on, taxMinor }) => taxMinor !== 0 && from <= on && on <= to)
    .map(({ tax, taxMinor, taxBaseMinor, invoiceId }) => ({
      place: tax.place === '' ? tax.label : tax.place,
      ratePpm: tax.ratePpm,
      baseMinor: taxBaseMinor,
      dueMinor: invoiceId === null ? taxMinor : 0,
      collectedMinor: taxMinor,
    }));

/** Sales tax of a year, quarter by quarter and place by place; only where there is any. */
export const taxOf = (db: ReadDb, facts: YearFacts): readonly SheetTax[] =>
  quartersOf(facts.span).flatMap((quarter) => {
    const due = taxDueIn(db, quarter).map((row) => ({
      ...{ place: row.place, ratePpm: row.rate_ppm, baseMinor: row.base_minor },
      ...{ dueMinor: row.due_minor, collectedMinor: 0 },
    }));
    const groups = new Map<string, TaxPart>();
    for (const part of [...due, ...collected(facts, quarter)]) {
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

/** Trips of a year by the unit they were written in; one taken back is off from the day it was taken back. */
export function tripsOf(db: ReadDb, span: Span): readonly SheetTrips[] {
  const rows = mileageRows(db, span);
  return (['mi', 'km'] as const)
    .map((unit) => rows.filter((row) => row.unit === unit))
    .flatMap((some) => {
      const [first] = some;
      if (first === undefined) return [];
      return {
        unit: first.unit === 'km' ? ('km' as const) : ('mi' as const),
        trips: sumOf(some, (row) => (row.reverses_id === null ? 1 : -1)),
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
export function assetsOf(db: ReadDb, { span, depreciation }: YearFacts): readonly SheetAsset[] {
  const inYear = new Map(depreciation.map((line) => [line.assetId, line.minor]));
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

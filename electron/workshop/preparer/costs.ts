/** Costs of a year beside goods as sources of the sheet: by the day they were paid, and by the day they belong to. */
import type { SheetSource } from '../../domain/preparer.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { expensesByCategory, type Span } from '../../storage/queries/expenses.ts';
import { incomeByKind, mileageTotal } from '../../storage/queries/money.ts';
import type { SaleRecord } from '../../storage/queries/selling.ts';
import { firstPaidOn } from '../../storage/queries/sheet-money.ts';
import { servicePostage } from '../../storage/queries/year-books.ts';
import { chargeFees } from '../../storage/queries/year-flows.ts';
import { depreciationIn } from '../money/depreciation.ts';
import { categorySource, named } from './sources.ts';

/** Fee of the charge on a sale's own invoice; those on its deposits are counted by their own day. */
const ownFee = (sale: SaleRecord): number => sale.fee_minor - sale.deposit_fee_minor;

/** Fees of charges paid in a year, of sales of any year. @param around sales whose charge may fall into the year */
function feesPaid(db: ReadDb, span: Span, around: readonly SaleRecord[]): number {
  const paidOn = firstPaidOn(
    db,
    around.map(({ id }) => id),
  );
  // Without an invoice of its own a sale counts as paid on its day.
  const dayOf = (sale: SaleRecord): string => {
    const day = paidOn.get(sale.id);
    return day === undefined ? sale.on_date : (day ?? '');
  };
  return sumOf(
    around.filter((sale) => span.from <= dayOf(sale) && dayOf(sale) <= span.to),
    ownFee,
  );
}

function categories(db: ReadDb, span: Span): readonly SheetSource[] {
  const cash = new Map(expensesByCategory(db, span, 'paid_on').map((row) => [row.category_id, row]));
  const earned = new Map(expensesByCategory(db, span).map((row) => [row.category_id, row]));
  const rows = new Map([...cash, ...earned]);
  return [...rows.values()]
    .toSorted((a, b) => a.position - b.position || (a.name < b.name ? -1 : 1))
    .map(({ category_id, name }) => ({
      source: categorySource(category_id),
      label: name,
      href: '#/money',
      cashMinor: cash.get(category_id)?.cost_minor ?? 0,
      earnedMinor: earned.get(category_id)?.cost_minor ?? 0,
    }));
}

/** What one year's books spent beside goods. */
export interface SpentOn {
  readonly incidentalMinor: number;
  readonly freightMinor: number;
  /** Sales of the year. */
  readonly sales: readonly SaleRecord[];
  /** Sales of the year and of the years before it, whose charge may fall into it. */
  readonly around: readonly SaleRecord[];
}

/** Every source of cost beside goods. Purchases and postage count on their own day in both views. */
export function costsOf(db: ReadDb, span: Span, spent: SpentOn): readonly SheetSource[] {
  const platform = (day: 'earned_on' | 'received_on'): number =>
    sumOf(incomeByKind(db, span, day), (row) => row.fee_minor);
  const same = (source: string, minor: number): SheetSource => named(source, minor, minor);
  const beside = sumOf(chargeFees(db, span), (charge) => charge.fee_minor);
  const postage =
    sumOf(spent.sales, (sale) => sale.postage_paid_minor) +
    sumOf(servicePostage(db, span), (row) => row.postage_paid_minor);
  return [
    same('costs.incidental', spent.incidentalMinor),
    same('costs.freight', spent.freightMinor),
    same('costs.postage', postage),
    named('costs.fees', feesPaid(db, span, spent.around) + beside, sumOf(spent.sales, ownFee) + beside),
    named('costs.platform', platform('received_on'), platform('earned_on')),
    same('costs.mileage', mileageTotal(db, span)),
    same(
      'costs.depreciation',
      sumOf(depreciationIn(db, span), (row) => row.minor),
    ),
    ...categories(db, span),
  ];
}

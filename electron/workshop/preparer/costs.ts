/** Costs of a year beside goods as sources of the sheet: by the day they were paid, and by the day they belong to. */
import type { SheetGoods } from '../../api/preparer.ts';
import type { SheetSource } from '../../domain/preparer.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { expensesByCategory, type Span } from '../../storage/queries/expenses.ts';
import { incomeByKind } from '../../storage/queries/money.ts';
import { saleFeesPaid } from '../../storage/queries/sheet-money.ts';
import type { YearFacts } from '../year/gather.ts';
import { categorySource, named } from './sources.ts';

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

/**
 * Every source of cost beside goods, most of them reckoned once for the yearly report and this sheet. Purchases and postage
 * count on their own day in both views.
 */
export function costsOf(db: ReadDb, facts: YearFacts, goods: SheetGoods): readonly SheetSource[] {
  const { span } = facts;
  const platform = (day: 'earned_on' | 'received_on'): number =>
    sumOf(incomeByKind(db, span, day), (row) => row.fee_minor);
  const same = (source: string, minor: number): SheetSource => named(source, minor, minor);
  const beside = sumOf(facts.fees, (charge) => charge.fee_minor);
  const postage =
    sumOf(facts.sold, ({ delta }) => delta.postageMinor) +
    sumOf(facts.servicePostage, (row) => row.postage_paid_minor);
  return [
    same('costs.incidental', goods.incidentalMinor),
    same('costs.freight', goods.freightMinor),
    same('costs.postage', postage),
    named(
      'costs.fees',
      saleFeesPaid(db, span) + beside,
      sumOf(facts.sold, (sold) => sold.ownFeeMinor) + beside,
    ),
    named('costs.platform', platform('received_on'), platform('earned_on')),
    same('costs.mileage', facts.mileageMinor),
    same(
      'costs.depreciation',
      sumOf(facts.depreciation, (row) => row.minor),
    ),
    ...categories(db, span),
  ];
}

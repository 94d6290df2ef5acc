/** Every source of figures of the sheet: its words, the part it belongs to, and the screen that lists what is in it. */
import type { MapRow } from '../../api/preparer.ts';
import type { SheetSource } from '../../domain/preparer.ts';
import type { ReadDb } from '../../storage/db.ts';
import { categoryRows } from '../../storage/queries/expenses.ts';

type Group = MapRow['group'];

interface Known {
  readonly label: string;
  readonly group: Group;
  readonly href: string;
}

const known: Readonly<Record<string, Known>> = {
  'income.knives': { label: 'Knives sold', group: 'income', href: '#/invoices/sales' },
  'income.shipping': { label: 'Shipping charged', group: 'income', href: '#/invoices/sales' },
  'income.deposits': { label: 'Deposits received', group: 'income', href: '#/orders' },
  'income.refunds': { label: 'Refunds and credits', group: 'income', href: '#/invoices' },
  'income.service': { label: 'Sharpening and service', group: 'income', href: '#/invoices/service' },
  'income.kept': { label: 'Deposits kept', group: 'income', href: '#/orders' },
  'income.supporters': { label: 'Supporters', group: 'income', href: '#/money/income' },
  'income.content': { label: 'Content', group: 'income', href: '#/money/income' },
  'income.other': { label: 'Other income', group: 'income', href: '#/money/income' },
  'goods.opening': { label: 'Stock at the beginning', group: 'goods', href: '#/stock/value' },
  'goods.materials': { label: 'Materials and packaging bought', group: 'goods', href: '#/stock/purchases' },
  'goods.consumables': { label: 'Consumables bought', group: 'goods', href: '#/stock/purchases' },
  'goods.personal': { label: 'Taken for personal use, at cost', group: 'goods', href: '#/stock' },
  'goods.closing': { label: 'Stock at the end', group: 'goods', href: '#/stock/value' },
  'costs.incidental': {
    label: 'Supplies, an expense when bought',
    group: 'expenses',
    href: '#/stock/purchases',
  },
  'costs.freight': { label: 'Freight kept out of stock', group: 'expenses', href: '#/stock/purchases' },
  'costs.postage': { label: 'Postage on parcels', group: 'expenses', href: '#/invoices/sales' },
  'costs.fees': { label: 'Fees for payments', group: 'expenses', href: '#/invoices/sales' },
  'costs.platform': { label: 'Supporters’ platform', group: 'expenses', href: '#/money/income' },
  'costs.mileage': { label: 'Mileage', group: 'expenses', href: '#/money/mileage' },
  'costs.depreciation': { label: 'Depreciation as booked', group: 'expenses', href: '#/money/assets' },
};

/** A figure under the words of its source. */
export function named(source: string, cashMinor: number, earnedMinor: number): SheetSource {
  const { label, href } = known[source] ?? { label: source, href: '' };
  return { source, label, href, cashMinor, earnedMinor };
}

const categoryPrefix = 'category:';

/** Source of a category of expenses. */
export const categorySource = (categoryId: string): string => `${categoryPrefix}${categoryId}`;
/** The category of such a source; null for any other. */
export const categoryOf = (source: string): string | null =>
  source.startsWith(categoryPrefix) ? source.slice(categoryPrefix.length) : null;

export interface SourceWords {
  readonly source: string;
  readonly label: string;
  readonly group: Group;
}

/** Everything that can be put on a line, expenses by the maker's own categories. */
export const allSources = (db: ReadDb): readonly SourceWords[] => [
  ...Object.entries(known).map(([source, { label, group }]) => ({ source, label, group })),
  // One laid away may have been spent on in the year all the same, and must find its line.
  ...categoryRows(db).map((row): SourceWords => ({
    source: categorySource(row.id),
    label: row.name,
    group: 'expenses',
  })),
];

/** Words and spans of days shared by the screens of money. */
import type { Asset, Disposal, ExpenseKind } from '../../../electron/api/money.ts';
import type { FiscalYear } from '../../../electron/api/year.ts';
import { addDays, addMonths } from '../../../electron/domain/calendar.ts';
import { decimalText } from '../../../electron/domain/rational.ts';
import { daysIn } from '../../lib/format.ts';

export const kindWords: Readonly<Record<ExpenseKind, string>> = {
  overhead: 'Overhead',
  supplies: 'Supplies used up',
  postage: 'Postage',
  platformFee: 'Platform fee',
  taxPaid: 'Tax paid over, no cost',
};

export const disposalWords: Readonly<Record<Disposal, string>> = {
  sold: 'Sold',
  scrapped: 'Scrapped',
  given: 'Given away',
  lost: 'Lost or stolen',
};

export const conventionWords = {
  halfYear: 'Half-year',
  q1: 'First quarter',
  q2: 'Second quarter',
  q3: 'Third quarter',
  q4: 'Last quarter',
  straight: 'Straight line, half-year',
} as const;

/** How an asset is written off, in words. */
export function methodText(asset: Asset): string {
  if (asset.method === 'atOnce') return 'at once';
  if (asset.method === 'months') {
    const months = asset.lifeMonths ?? 0;
    return months % 12 === 0
      ? `straight line over ${String(months / 12)} ${months === 12 ? 'year' : 'years'}`
      : `straight line over ${String(months)} months`;
  }
  const table = asset.convention === null ? '' : conventionWords[asset.convention].toLowerCase();
  return `${String(asset.classYears ?? '')}-year table, ${table}`;
}

/** The spans a list can be narrowed to: the last twelve months, each fiscal year, everything. */
export function spanChoices(years: readonly FiscalYear[]): readonly { value: string; label: string }[] {
  return [
    { value: 'twelve', label: 'Last twelve months' },
    ...years.map((year) => ({ value: year.from, label: daysIn(year.name) })),
    { value: 'all', label: 'All' },
  ];
}

/** First and last day of a choice; nothing for everything. */
export function spanOf(
  choice: string,
  years: readonly FiscalYear[],
  today: string,
): { from?: string; to?: string } {
  if (choice === 'twelve') return { from: addDays(addMonths(today, -12), 1), to: today };
  const year = years.find((one) => one.from === choice);
  return year === undefined ? {} : { from: year.from, to: year.to };
}

/** `24.5 mi`: thousandths of a unit without needless zeros. */
export const distanceText = (milli: number, unit: string): string =>
  `${decimalText(milli, 3).replace(/\.?0+$/, '')} ${unit}`;

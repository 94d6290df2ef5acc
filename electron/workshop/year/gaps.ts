/** What is missing in a year's books, each with where to mend it. */
import type { YearGap } from '../../api/year.ts';
import { addDays } from '../../domain/calendar.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type GapCounts, gapCounts, hasEarlier } from '../../storage/queries/year-books.ts';
import type { Days } from '../../storage/queries/year-knives.ts';

type Words = readonly [key: keyof GapCounts, one: string, several: string, href: string];

const words: readonly Words[] = [
  ['noReceipt', 'expense has no receipt.', 'expenses have no receipt.', '#/money'],
  ['owed', 'expense is not paid yet.', 'expenses are not paid yet.', '#/money'],
  [
    'noInvoice',
    'knife was sold without an invoice.',
    'knives were sold without an invoice.',
    '#/invoices/sales',
  ],
  [
    'unpaid',
    'invoice was not paid when the year ended.',
    'invoices were not paid when the year ended.',
    '#/invoices',
  ],
  ['noMinutes', 'sold knife has no hours.', 'sold knives have no hours.', '#/builds'],
  ['noCost', 'sold knife has no cost.', 'sold knives have no cost.', '#/builds'],
  [
    'noPaper',
    'lot of a listed species has neither a document number nor a scan.',
    'lots of listed species have neither a document number nor a scan.',
    '#/stock',
  ],
  [
    'openService',
    'service is done and not invoiced.',
    'services are done and not invoiced.',
    '#/invoices/service',
  ],
];

const isCounted = (counts: GapCounts, key: 'openingCount' | 'closingCount'): boolean => counts[key] > 0;

/** The gaps of a year. @param today a year that runs has no closing stocktake yet */
export function gapsOf(db: ReadDb, span: Days, today: string): readonly YearGap[] {
  const before = addDays(span.from, -1);
  const counts = gapCounts(db, span, before);
  const gaps = words
    .filter(([key]) => counts[key] > 0)
    .map(([key, one, several, href]): YearGap => {
      const n = counts[key];
      return { key, text: `${String(n)} ${n === 1 ? one : several}`, count: n, href };
    });
  const stocktake = (key: string, day: string): YearGap => ({
    key,
    text: `There is no stocktake of ${day}: the stock of that day is what the books say, uncounted.`,
    count: 1,
    href: '#/stock/stocktake',
  });
  if (hasEarlier(db, span.from) && !isCounted(counts, 'openingCount'))
    gaps.push(stocktake('openingCount', before));
  if (span.to < today && !isCounted(counts, 'closingCount')) gaps.push(stocktake('closingCount', span.to));
  return gaps;
}

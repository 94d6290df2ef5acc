/** Every screen of a workshop, by its address; pages of single things are found by following the lists. */
import type { Page } from 'playwright-core';
import { goTo } from './watch.ts';

const lists = [
  'bench',
  'builds',
  'builds/models',
  'builds/models/new',
  'builds/heats',
  'builds/next',
  'builds/prices',
  'stock',
  'stock/items',
  'stock/purchases',
  'stock/purchases/new',
  'stock/suppliers',
  'stock/movements',
  'stock/value',
  'stock/stocktake',
  'stock/makings',
  'stock/cutting',
  'consumables',
  'consumables/peg',
  'consumables/openings',
  'consumables/life',
  'consumables/fires',
  'hours',
  'hours/week',
  'hours/sessions',
  'hours/waits',
  'orders',
  'orders/quotes',
  'orders/quotes/new',
  'orders/promises',
  'orders/rules',
  'buyers',
  'buyers/supporters',
  'buyers/twice',
  'buyers/shipping',
  'releases',
  'invoices',
  'invoices/owed',
  'invoices/drafts',
  'invoices/draft',
  'invoices/sales',
  'invoices/parcels',
  'invoices/service',
  'invoices/sell',
  'money',
  'money/repeats',
  'money/mileage',
  'money/assets',
  'money/income',
  'money/categories',
  'margins',
  'year',
  'year/years',
  'year/sheet',
  'year/sheet/lines',
  'year/close',
  'year/archive',
  'trials',
  'ask',
  'ask/hours',
  'ask/failures',
  'ask/heat',
  'ask/again',
  'ask/doubtful',
  'workshop/details',
  'workshop/rates',
  'workshop/people',
  'workshop/tax',
  'workshop/channels',
  'workshop/stages',
  'workshop/papers',
  'workshop/copies',
  'workshop/history',
  'imports/purchases',
  'imports/hours',
  'imports/sales',
  'imports/buyers',
  'imports/expenses',
];

/** Lists whose first entry has a page of its own. */
const entries = [
  'builds',
  'builds/models',
  'stock',
  'stock/items',
  'stock/purchases',
  'stock/suppliers',
  'stock/makings',
  'stock/stocktake',
  'orders',
  'orders/quotes',
  'buyers',
  'releases',
  'invoices',
  'money/assets',
  'trials',
  'builds/next',
];

const firstOf = async (page: Page, list: string): Promise<string> => {
  await goTo(page, list);
  const href = await page.locator('main tbody tr a').first().getAttribute('href');
  if (href === null) throw new Error(`${list} shows nothing to open`);
  return href.replace(/^#\//, '');
};

/** Addresses of all screens. @param empty lists without an entry to open */
export const screensOf = async (page: Page, empty: readonly string[] = []): Promise<readonly string[]> => {
  const singles: string[] = [];
  for (const list of entries.filter((one) => !empty.includes(one))) singles.push(await firstOf(page, list));
  const [knife = '', model = ''] = singles;
  return [...lists, ...singles, `${knife}/cost`, `${knife}/ways`, `${model}/change`];
};

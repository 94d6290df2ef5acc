/** What is missing from a year's figures, each with the screen to mend it on. */
import type { SheetGap } from '../../api/preparer.ts';
import { addDays } from '../../domain/calendar.ts';
import type { OpeningTie, SheetSource } from '../../domain/preparer.ts';
import type { ReadDb } from '../../storage/db.ts';
import { expenseTotals, type Span } from '../../storage/queries/expenses.ts';
import {
  assetsWithoutPaper,
  hadStockBy,
  incomeAwaited,
  purchasesWithoutPaper,
  purchasesWithoutPrice,
  tripsWithoutPurpose,
  wasCounted,
} from '../../storage/queries/sheet-gaps.ts';

/** One thing or several, in a whole sentence. */
const sentence = (count: number, one: string, many: string): string =>
  count === 1 ? one : many.replace('{n}', String(count));

const gap = (key: string, count: number, words: readonly [string, string], href: string): SheetGap[] =>
  count === 0 ? [] : [{ key, count, href, text: sentence(count, ...words) }];

function stockGaps(db: ReadDb, span: Span, opening: OpeningTie, today: string): readonly SheetGap[] {
  const before = addDays(span.from, -1);
  const had = hadStockBy(db, before);
  const counted = '#/stock/stocktake';
  const answers = '#/year/sheet/answers';
  const one = (key: string, isMissing: boolean, text: string, href: string): SheetGap[] =>
    isMissing ? [{ key, count: 1, text, href }] : [];
  return [
    ...one(
      'count.opening',
      had && !wasCounted(db, before),
      `Stock was not counted at the end of ${before}; the opening stock is what the books say.`,
      counted,
    ),
    ...one(
      'count.closing',
      span.to < today && hadStockBy(db, span.to) && !wasCounted(db, span.to),
      `Stock was not counted at the end of ${span.to}; the closing stock is what the books say.`,
      counted,
    ),
    ...one(
      'opening.open',
      opening.state === 'open',
      'Opening stock is not last year’s closing stock, and nobody said why.',
      answers,
    ),
    ...one(
      'opening.unknown',
      opening.state === 'unknown' && had,
      'Nobody said what closing stock last year’s form had.',
      answers,
    ),
  ];
}

function dayGaps(db: ReadDb, span: Span): readonly SheetGap[] {
  return [
    ...gap(
      'owed',
      expenseTotals(db, { ...span, owed: true }).n,
      [
        'One expense has no day it was paid: it is in the earned view only.',
        '{n} expenses have no day they were paid: they are in the earned view only.',
      ],
      '#/money',
    ),
    ...gap(
      'awaited',
      incomeAwaited(db, span),
      [
        'One income has no day it came in: it is in the earned view only.',
        '{n} incomes have no day they came in: they are in the earned view only.',
      ],
      '#/money/income',
    ),
  ];
}

function paperGaps(db: ReadDb, span: Span): readonly SheetGap[] {
  return [
    ...gap(
      'receipts',
      expenseTotals(db, { ...span, noReceipt: true }).n,
      ['One expense has no receipt.', '{n} expenses have no receipt.'],
      '#/money',
    ),
    ...gap(
      'purchases.paper',
      purchasesWithoutPaper(db, span),
      ['One purchase has no paper pinned to it.', '{n} purchases have no paper pinned to them.'],
      '#/stock/purchases',
    ),
    ...gap(
      'purchases.price',
      purchasesWithoutPrice(db, span),
      ['One line of a purchase has no price.', '{n} lines of purchases have no price.'],
      '#/stock/purchases',
    ),
    ...gap(
      'assets.paper',
      assetsWithoutPaper(db, span),
      ['One asset bought in the year has no paper.', '{n} assets bought in the year have no paper.'],
      '#/money/assets',
    ),
    ...gap(
      'trips.purpose',
      tripsWithoutPurpose(db, span),
      ['One trip has no purpose.', '{n} trips have no purpose.'],
      '#/money/mileage',
    ),
  ];
}

/** Everything that should be there and is not. @param today a year that runs has no closing stocktake yet */
export function gapsOf(
  db: ReadDb,
  span: Span,
  opening: OpeningTie,
  unplaced: readonly SheetSource[],
  today: string,
): readonly SheetGap[] {
  return [
    ...unplaced.map((source) => ({
      key: `line.${source.source}`,
      count: 1,
      text: `${source.label} is on no line of the form.`,
      href: '#/year/sheet/lines',
    })),
    ...stockGaps(db, span, opening, today),
    ...dayGaps(db, span),
    ...paperGaps(db, span),
  ];
}

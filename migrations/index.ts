/** Every change of the books' shape, in order. A migration that has been released is never edited. */
import type { Migration } from '../electron/storage/migrate.ts';
import { migration as firstBooks } from './0010-first-books.ts';
import { migration as rackForgeClock } from './0020-rack-forge-clock.ts';
import { migration as orderBook } from './0030-order-book.ts';
import { migration as answers } from './0040-answers.ts';
import { migration as quotes } from './0050-quotes.ts';
import { migration as money } from './0060-money.ts';
import { migration as stocktake } from './0070-stocktake.ts';
import { migration as seals } from './0080-seals.ts';
import { migration as keptBytes } from './0090-kept-bytes.ts';
import { migration as taxLines } from './0100-tax-lines.ts';
import { migration as fiscalYears } from './0110-fiscal-years.ts';

export const migrations: readonly Migration[] = [
  firstBooks,
  rackForgeClock,
  orderBook,
  answers,
  quotes,
  money,
  stocktake,
  seals,
  keptBytes,
  taxLines,
  fiscalYears,
];

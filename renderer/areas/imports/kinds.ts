/** The kinds of records that can be brought in, in words. */
import type { ImportKind } from '../../../electron/api/imports.ts';
import { count } from '../../lib/format.ts';

export interface KindWords {
  readonly kind: ImportKind;
  readonly title: string;
  readonly about: string;
  /** What `makeMissing` makes. */
  readonly makes: string;
  /** Where what was booked can be seen. */
  readonly path: readonly string[];
  readonly see: string;
}

export const kindList: readonly KindWords[] = [
  {
    kind: 'purchases',
    title: 'Purchases',
    about:
      'One line for each thing bought. Lines of one day, supplier and reference become one purchase; each becomes lots on the rack.',
    makes: 'Make suppliers and items the books do not know yet',
    path: ['stock', 'purchases'],
    see: 'See the purchases',
  },
  {
    kind: 'hours',
    title: 'Hours',
    about: 'One line for each session at the bench: the day, how long, what was done, on which knives.',
    makes: '',
    path: ['hours', 'sessions'],
    see: 'See the sessions',
  },
  {
    kind: 'sales',
    title: 'Sales',
    about:
      'One line for each knife sold. Each knife must be in the books and finished. A line may ask for an invoice of its own number.',
    makes: 'Make buyers the books do not know yet',
    path: ['invoices', 'sales'],
    see: 'See the sales',
  },
  {
    kind: 'buyers',
    title: 'Buyers',
    about:
      'One line for each person, or a file of address cards (.vcf) out of an address book. Whom the books seem to know already, by email, telephone or name, is named before anything is booked.',
    makes: '',
    path: ['buyers'],
    see: 'See the buyers',
  },
  {
    kind: 'expenses',
    title: 'Expenses',
    about:
      'One line for each receipt that is no purchase of stock. Categories are named as under Money. A line of a day, payee and sum the books hold already is left out.',
    makes: '',
    path: ['money'],
    see: 'See the expenses',
  },
];

/** How many lines of what, e.g. `3 sales`. */
export const linesOf = (kind: ImportKind, n: number): string =>
  count(
    n,
    { purchases: 'purchase line', hours: 'session', sales: 'sale', buyers: 'buyer', expenses: 'expense' }[
      kind
    ],
  );

/** How many suppliers, items or buyers. */
export const madeOf = (what: 'supplier' | 'item' | 'buyer', n: number): string => count(n, what);

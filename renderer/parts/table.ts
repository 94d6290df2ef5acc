/** What a list needs to know about its columns. */
import type { Snippet } from 'svelte';
import { microToMinor } from '../../electron/domain/money.ts';
import { decimalText } from '../../electron/domain/rational.ts';
import type { Cell } from '../lib/csv.ts';
import { cost, day, duration, money } from '../lib/format.ts';
import { shop } from '../lib/shop.svelte.ts';

/** As a spreadsheet reads it: without sign and commas. @param minor of the minor unit */
const plainMoney = (minor: number): string => decimalText(minor, shop.decimals);

/** How plain figures read on the screen, and how the CSV file has them. */
const figureKinds = {
  /** A selling amount in the minor unit. */
  money: { write: money, plain: plainMoney },
  /** A cost in millionths of the currency unit. */
  cost: { write: cost, plain: (micro: number) => plainMoney(microToMinor(micro, shop.decimals)) },
  /** Minutes; they stay minutes in the file. */
  time: { write: duration, plain: (minutes: number) => minutes },
} as const;

export interface Column<Row> {
  readonly key: string;
  readonly title: string;
  /** Plain value: sorts the list, and goes into the CSV file where there is no text. */
  readonly value: (row: Row) => Cell;
  /** What kind of value it is, where it is one of those that read the same in every list; a day is ISO text. */
  readonly as?: keyof typeof figureKinds | 'day';
  /** How it reads on the screen, when that differs from the value. */
  readonly text?: (row: Row) => string;
  /** What goes into the CSV file, when neither the text nor the value fits there. */
  readonly csv?: (row: Row) => Cell;
  /** For cells with more than text. */
  readonly cell?: Snippet<[Row]>;
  /** Figures stand right-aligned; those of a kind do anyway. */
  readonly figures?: boolean;
  /** Leaves the column out where the list has little room. */
  readonly wideOnly?: boolean;
}

export type SortWay = 'ascending' | 'descending';

const compare = (a: Cell, b: Cell): number => {
  if (typeof a === 'number' && typeof b === 'number') return a - b;
  // Nothing goes last, whichever way.
  if (a === null || a === undefined || a === '') return 1;
  if (b === null || b === undefined || b === '') return -1;
  return inOrder(String(a), String(b));
};

let collator: Intl.Collator | undefined;

/** Puts L-9 before L-10. Made when first sorted: the browser reads the rules of a language then. */
const inOrder = (a: string, b: string): number => {
  collator ??= new Intl.Collator('en', { numeric: true, sensitivity: 'base' });
  return collator.compare(a, b);
};

/** Rows in the order of a column; equal rows keep their order. */
export const sorted = <Row>(
  rows: readonly Row[],
  column: Column<Row> | undefined,
  way: SortWay,
): readonly Row[] => {
  if (column === undefined) return rows;
  const sign = way === 'ascending' ? 1 : -1;
  const empty = (cell: Cell): boolean => cell === null || cell === undefined || cell === '';
  return rows.toSorted((a, b) => {
    const [x, y] = [column.value(a), column.value(b)];
    return empty(x) || empty(y) ? compare(x, y) : sign * compare(x, y);
  });
};

/** Whether a column's cells stand right-aligned. */
export const isFigures = <Row>(column: Column<Row>): boolean =>
  column.figures === true || (column.as !== undefined && column.as !== 'day');

/** Text of a cell as shown. */
export const shown = <Row>(column: Column<Row>, row: Row): string => {
  if (column.text !== undefined) return column.text(row);
  const value = column.value(row);
  if (value === null || value === undefined) return '';
  if (column.as === 'day') return day(String(value));
  return column.as !== undefined && typeof value === 'number'
    ? figureKinds[column.as].write(value)
    : String(value);
};

/** Cell of the CSV file. */
export const exported = <Row>(column: Column<Row>, row: Row): Cell => {
  if (column.csv !== undefined) return column.csv(row);
  if (column.text !== undefined) return column.text(row);
  const value = column.value(row);
  return column.as !== undefined && column.as !== 'day' && typeof value === 'number'
    ? figureKinds[column.as].plain(value)
    : value;
};

/** What a list needs to know about its columns. */
import type { Snippet } from 'svelte';
import type { Cell } from '../lib/csv.ts';

export interface Column<Row> {
  readonly key: string;
  readonly title: string;
  /** Plain value: sorts the list, and goes into the CSV file where there is no text. */
  readonly value: (row: Row) => Cell;
  /** How it reads on the screen, when that differs from the value. */
  readonly text?: (row: Row) => string;
  /** What goes into the CSV file, when neither the text nor the value fits there. */
  readonly csv?: (row: Row) => Cell;
  /** For cells with more than text. */
  readonly cell?: Snippet<[Row]>;
  /** Figures stand right-aligned. */
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
  return collator.compare(String(a), String(b));
};

/** Puts L-9 before L-10. */
const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });

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

/** Text of a cell as shown. */
export const shown = <Row>(column: Column<Row>, row: Row): string => {
  if (column.text !== undefined) return column.text(row);
  const value = column.value(row);
  return value === null || value === undefined ? '' : String(value);
};

/** Cell of the CSV file. */
export const exported = <Row>(column: Column<Row>, row: Row): Cell => {
  if (column.csv !== undefined) return column.csv(row);
  return column.text === undefined ? column.value(row) : column.text(row);
};

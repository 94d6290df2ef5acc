/** What a list needs to know about its columns. */
import type { Snippet } from 'svelte';
import { microToMinor } from '../../electron/domain/money.ts';
import { decimalText } from '../../electron/domain/rational.ts';
import type { Cell } from '../lib/csv.ts';
import { cost, day, duration, money } from '../lib/format.ts';
import { shop } from '../lib/shop.svelte.ts';

/** Said by a list that is empty because it was narrowed. */
export const nothingFits = 'Nothing fits. Take out a word or a choice to see more.';

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
  /** Leaves the column out where the list has little room; `very`: also at the room a window of 1280 leaves. */
  readonly wideOnly?: boolean | 'very';
  /** Stands in the CSV file only: what another column of the screen sums up. */
  readonly fileOnly?: true;
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

/** Rows in the order found before; nothing when one of them was not there then. */
const placed = <Row>(rows: readonly Row[], places: ReadonlyMap<Row, number>): readonly Row[] | undefined => {
  const found = new Array<Row | undefined>(places.size);
  for (const row of rows) {
    const place = places.get(row);
    if (place === undefined || found[place] !== undefined) return undefined;
    found[place] = row;
  }
  return found.filter((row) => row !== undefined);
};

/** Sorts like `sorted`, and remembers: a list that is only narrowed is put in order without comparing anything. */
export const sorter = <Row>(): typeof sorted<Row> => {
  let places: ReadonlyMap<Row, number> = new Map();
  let by: Column<Row> | undefined;
  let direction: SortWay | undefined;
  return (rows, column, way) => {
    if (column === undefined) return rows;
    const known = column === by && way === direction ? placed(rows, places) : undefined;
    if (known !== undefined) return known;
    const all = sorted(rows, column, way);
    places = new Map(all.map((row, at) => [row, at]));
    by = column;
    direction = way;
    return all;
  };
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

/** One cell as it is drawn. */
export interface DrawnCell<Row> {
  readonly text: string;
  /** Names of its styles. */
  readonly css: string;
  readonly cell: Snippet<[Row]> | undefined;
}

/** Dates, tags and names up to this length stay on one line. */
const shortText = 16;
/** A word longer than any a maker would leave whole: it may break, so that it does not push the other columns away. */
const endlessWord = /\S{25}/;

const fit = (text: string): string =>
  text.length <= shortText ? 'short' : endlessWord.test(text) ? 'endless' : '';

/** Names of the styles of a column's cells. */
export const columnCss = <Row>(column: Column<Row>): string =>
  `${isFigures(column) ? 'figures' : ''} ${column.wideOnly === 'very' ? 'very-wide' : column.wideOnly === true ? 'wide' : ''}`;

/** Reckons rows into what is drawn of them; what all rows have in common is reckoned once. */
export const drawer = <Row>(columns: readonly Column<Row>[]): ((row: Row) => readonly DrawnCell<Row>[]) => {
  const styles = columns.map(columnCss);
  return (row) =>
    columns.map((column, at) => {
      const text = shown(column, row);
      return { text, css: `${styles[at] ?? ''} ${fit(text)}`, cell: column.cell };
    });
};

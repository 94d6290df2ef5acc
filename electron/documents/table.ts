/** Tables of a paper: measured once, broken between rows, headings repeated, the last row kept with what adds it up. */
import { ink, styles, type Paper, type Style } from './paper.ts';

export interface Column {
  readonly head: string;
  readonly width: number;
  readonly right: boolean;
}

export interface Cell {
  readonly text: string;
  readonly style: Style;
  /** Said quietly under the text. */
  readonly detail?: string;
}

export interface Row {
  readonly cells: readonly Cell[];
  /** A line of full ink above: this row adds up what stands over it. */
  readonly sum?: boolean;
}

export interface TableSpec {
  readonly x: number;
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
  /** Height that must follow the last row on the same page: totals. */
  readonly keepAfter?: number;
  readonly padding?: number;
  readonly headStyle?: Style;
  /** Details go on the line of their text where there is room. */
  readonly besideText?: boolean;
  /** Style of details. */
  readonly detailStyle?: Style;
}

interface SetCell {
  readonly lines: readonly string[];
  readonly details: readonly string[];
  /** Detail set after the text, on its line; empty for none. */
  readonly beside: string;
}
interface SetRow {
  readonly row: Row;
  readonly cells: readonly SetCell[];
  readonly height: number;
}

/** Between two columns, in points. */
export const columnGap = 14;

/** Widths for columns of figures: as wide as their widest figure; the first column takes the rest. */
export function fitColumns(
  paper: Paper,
  total: number,
  heads: readonly string[],
  rows: readonly Row[],
  headStyle: Style = styles.label,
): readonly Column[] {
  const widths = heads.map((head, at) => {
    const texts = rows.map((row) => row.cells[at]).filter((cell) => cell !== undefined);
    return Math.max(
      paper.textWidth(head, headStyle),
      ...texts.map((cell) => paper.textWidth(cell.text, cell.style)),
    );
  });
  const others = widths.slice(1).reduce((sum, width) => sum + width + columnGap, 0);
  return heads.map((head, at) => ({
    head,
    right: at > 0,
    width: at === 0 ? Math.max(total - others, total * 0.3) : (widths[at] ?? 0),
  }));
}

/** Where each column begins. */
const startsOf = (spec: TableSpec): readonly number[] => {
  let x = spec.x;
  return spec.columns.map((column) => {
    const start = x;
    x += column.width + columnGap;
    return start;
  });
};

/** Between a text and a detail on its line, in points. */
const besideGap = 7;

const fitsBeside = (
  paper: Paper,
  spec: TableSpec,
  of: { readonly lines: readonly string[]; readonly detail: string; readonly style: Style },
  width: number,
): boolean => {
  const [line = '', second] = of.lines;
  if (spec.besideText !== true || of.detail === '' || second !== undefined) return false;
  const detail = paper.textWidth(of.detail, spec.detailStyle ?? styles.quiet);
  return paper.textWidth(line, of.style) + besideGap + detail <= width;
};

const measure = (paper: Paper, spec: TableSpec, row: Row): SetRow => {
  const detailStyle = spec.detailStyle ?? styles.quiet;
  let height = 0;
  const cells = row.cells.map((cell, at): SetCell => {
    const width = spec.columns[at]?.width ?? 0;
    const lines = paper.wrap(cell.text, cell.style, width);
    const detail = cell.detail ?? '';
    const beside = fitsBeside(paper, spec, { lines, detail, style: cell.style }, width);
    const details = detail === '' || beside ? [] : paper.wrap(detail, detailStyle, width);
    height = Math.max(height, lines.length * cell.style.lead + details.length * detailStyle.lead);
    return { lines, details, beside: beside ? detail : '' };
  });
  return { row, cells, height: height + 2 * (spec.padding ?? 3) };
};

const headHeight = (spec: TableSpec): number =>
  spec.columns.every((column) => column.head === '') ? 0 : (spec.headStyle ?? styles.label).lead + 6;

const drawHead = (paper: Paper, spec: TableSpec, starts: readonly number[], tagged: boolean): void => {
  const height = headHeight(spec);
  if (height === 0) return;
  const head = spec.headStyle ?? styles.label;
  const baseline = paper.y + head.lead - 2;
  const setOne = (column: Column, at: number): void => {
    const x = starts[at] ?? spec.x;
    paper.set(column.head, column.right ? x + column.width : x, baseline, head, column.right);
  };
  if (tagged) {
    paper.group('TR', () => {
      spec.columns.forEach((column, at) => paper.leaf('TH', () => setOne(column, at), 'Column'));
    });
  } else paper.furniture(() => spec.columns.forEach(setOne), 'Pagination');
  paper.y += height;
  paper.furniture(() => paper.rule(spec.x, paper.y - 1, endOf(spec, starts), paper.y - 1, 0.7, ink.full));
};

const endOf = (spec: TableSpec, starts: readonly number[]): number =>
  (starts.at(-1) ?? spec.x) + (spec.columns.at(-1)?.width ?? 0);

const drawCell = (paper: Paper, spec: TableSpec, at: number, x: number, set: SetCell, cell: Cell): void => {
  const column = spec.columns[at];
  const right = column?.right === true;
  const from = right ? x + column.width : x;
  const detailStyle = spec.detailStyle ?? styles.quiet;
  let y = paper.y + (spec.padding ?? 3);
  for (const line of set.lines) {
    paper.set(line, from, y + cell.style.lead - 3, cell.style, right);
    y += cell.style.lead;
  }
  if (set.beside !== '') {
    const after = from + paper.textWidth(set.lines[0] ?? '', cell.style) + besideGap;
    paper.set(set.beside, after, y - 3, detailStyle);
  }
  for (const line of set.details) {
    paper.set(line, from, y + detailStyle.lead - 3, detailStyle, right);
    y += detailStyle.lead;
  }
};

const drawRow = (paper: Paper, spec: TableSpec, starts: readonly number[], set: SetRow): void => {
  if (set.row.sum === true) {
    paper.furniture(() => paper.rule(spec.x, paper.y, endOf(spec, starts), paper.y, 0.7, ink.full));
  }
  paper.group('TR', () => {
    set.row.cells.forEach((cell, at) => {
      const measured = set.cells[at];
      if (measured === undefined) return;
      paper.leaf('TD', () => drawCell(paper, spec, at, starts[at] ?? spec.x, measured, cell));
    });
  });
  paper.y += set.height;
  if (set.row.sum !== true) {
    paper.furniture(() => paper.rule(spec.x, paper.y, endOf(spec, starts), paper.y, 0.35, ink.hair));
  }
};

/** Height of a table set in one piece. */
export const tableHeight = (paper: Paper, spec: TableSpec): number =>
  spec.rows.reduce((sum, row) => sum + measure(paper, spec, row).height, headHeight(spec));

/** Height of the head and the first row: what a heading above must keep with it. */
export const openingHeight = (paper: Paper, spec: TableSpec): number => {
  const [first] = spec.rows;
  return headHeight(spec) + (first === undefined ? 0 : measure(paper, spec, first).height);
};

/**
 * Sets a table from the paper's present place down.
 * A row is never cut, a sum never stands alone at the top of a page, and the last row stays with `keepAfter`.
 */
export function drawTable(paper: Paper, spec: TableSpec): void {
  const starts = startsOf(spec);
  const rows = spec.rows.map((row) => measure(paper, spec, row));
  const keep = keepWithRow(rows, spec.keepAfter ?? 0);
  paper.group('Table', () => {
    paper.need(headHeight(spec) + (rows[0]?.height ?? 0) + (keep[0] ?? 0));
    drawHead(paper, spec, starts, true);
    rows.forEach((row, at) => {
      if (at > 0 && paper.need(row.height + (keep[at] ?? 0))) drawHead(paper, spec, starts, false);
      drawRow(paper, spec, starts, row);
    });
  });
}

/** For each row, the height below it that must not be torn off: following sums, and what comes after the last row. */
function keepWithRow(rows: readonly SetRow[], keepAfter: number): readonly number[] {
  const keep = rows.map(() => 0);
  for (let at = rows.length - 1; at >= 0; at -= 1) {
    const next = rows[at + 1];
    if (next === undefined) keep[at] = keepAfter;
    else if (next.row.sum === true) keep[at] = next.height + (keep[at + 1] ?? 0);
  }
  return keep;
}

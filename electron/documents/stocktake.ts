/** The sheet to count on, with columns to write in, and what a stocktake came to. */
import { heading, paragraph, sheetHead } from './page.ts';
import { ink, Paper, type Style, styles } from './paper.ts';
import {
  type Column,
  columnGap,
  drawTable,
  fitColumns,
  openingHeight,
  type Row,
  type TableSpec,
} from './table.ts';
import type { StocktakePaper } from './types.ts';

type Section = StocktakePaper['sections'][number];

const gap = 12;
/** Wide enough to write a figure by hand, in points. */
const blankWidth = 88;
/** Lines to write on stand further apart. */
const handPadding = 6;

const toRows = (section: Section): readonly Row[] =>
  section.rows.map((row) => ({
    sum: row.strong,
    cells: row.cells.map((text, at) =>
      at === 0
        ? { text, style: row.strong ? styles.strong : styles.body, detail: row.detail }
        : { text, style: styleOf(section, row, at) },
    ),
  }));

/** The unit in an empty field is said quietly; figures stand in the figure face. */
const styleOf = (section: Section, row: Section['rows'][number], at: number): Style => {
  if (at >= section.heads.length - section.blanks) return styles.quiet;
  return row.strong ? styles.figureStrong : styles.figure;
};

/** The last columns of a count sheet are left empty to write in; the first one gives them the room. */
function columnsOf(paper: Paper, section: Section, rows: readonly Row[]): readonly Column[] {
  const written = section.heads.length - section.blanks;
  const room = paper.width - section.blanks * (blankWidth + columnGap);
  const fitted = fitColumns(paper, room, section.heads.slice(0, written), rows);
  const blanks = section.heads
    .slice(written)
    .map((head, at): Column => ({ head, width: blankWidth, right: at === 0 && section.blanks > 1 }));
  return [...fitted, ...blanks];
}

function drawSection(paper: Paper, section: Section): void {
  const rows = toRows(section);
  const table: TableSpec = {
    x: paper.left,
    columns: columnsOf(paper, section, rows),
    rows,
    padding: section.blanks > 0 ? handPadding : 2,
    besideText: true,
  };
  heading(paper, section.heading, openingHeight(paper, table));
  drawTable(paper, table);
  paper.y += gap;
}

/** Lines to sign on, side by side. */
function drawSigned(paper: Paper, labels: readonly string[]): void {
  if (labels.length === 0) return;
  const height = 44;
  paper.need(height);
  const width = (paper.width - columnGap * (labels.length - 1)) / labels.length;
  const top = paper.y + 28;
  labels.forEach((label, at) => {
    const x = paper.left + at * (width + columnGap);
    paper.furniture(() => paper.rule(x, top, x + width, top, 0.5, ink.full));
    paper.y = top + 2;
    paragraph(paper, label, styles.label, { x, width });
  });
  paper.y = top + 16;
}

/**
 * Sets a count sheet or a result.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderStocktake(data: StocktakePaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.mark}`;
  const paper = new Paper(data, { title: `${foot}, ${data.name}`, foot, ghost: null });
  const { sentence, ...head } = data;
  sheetHead(paper, sentence === '' ? head : { ...head, sentence });
  for (const section of data.sections) drawSection(paper, section);
  for (const remark of data.remarks) {
    paragraph(paper, remark, styles.quiet);
    paper.y += 2;
  }
  drawSigned(paper, data.signed);
  return paper.finish();
}

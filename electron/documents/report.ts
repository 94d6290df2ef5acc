/** A report on paper: a head or a cover, figures at a glance, then tables, charts and text that keep with their headings. */
import { chartHeight, drawChart } from './charts.ts';
import { heading, labelled, paragraph, sheetHead, titleBlock } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import type { ReportBlock, ReportChart, ReportPaper, ReportTable, ReportText } from './report-types.ts';
import {
  columnGap,
  drawTable,
  openingHeight,
  tableHeight,
  type Cell,
  type Column,
  type Row,
  type TableSpec,
} from './table.ts';

const blockGap = 16;
const rowPadding = 2;
/** No page holds more rows than this at half its height. */
const MOST_KEPT = 40;

const cellOf = (block: ReportTable, text: string, at: number, row: ReportTable['rows'][number]): Cell => {
  const isText = at === 0 || block.texts.includes(at);
  const strong = row.sum || row.strong;
  const face = isText ? (strong ? styles.strong : styles.body) : strong ? styles.figureStrong : styles.figure;
  return at === 0 && row.detail !== '' ? { text, style: face, detail: row.detail } : { text, style: face };
};

/** Columns as wide as their figures; what is left goes to the columns of text by what they hold. */
function columnsOf(paper: Paper, block: ReportTable, rows: readonly Row[]): readonly Column[] {
  const isText = (at: number): boolean => at === 0 || block.texts.includes(at);
  const widest = block.heads.map((head, at) =>
    Math.max(
      paper.textWidth(head, styles.label),
      ...rows.map((row) => paper.textWidth(row.cells[at]?.text ?? '', row.cells[at]?.style ?? styles.body)),
    ),
  );
  const gaps = columnGap * (block.heads.length - 1);
  const figures = widest.reduce((so, width, at) => (isText(at) ? so : so + width), 0);
  const texts = widest.reduce((so, width, at) => (isText(at) ? so + width : so), 0);
  const room = paper.width - gaps - figures;
  return block.heads.map((head, at) => {
    const own = widest[at] ?? 0;
    return {
      head,
      right: !isText(at),
      width: isText(at) ? Math.max(40, (own / Math.max(1, texts)) * room) : own,
    };
  });
}

const tableOf = (paper: Paper, block: ReportTable): TableSpec => {
  const rows = block.rows.map((row): Row => ({
    sum: row.sum,
    cells: row.cells.map((text, at) => cellOf(block, text, at, row)),
  }));
  return { x: paper.left, columns: columnsOf(paper, block, rows), rows, padding: rowPadding };
};

const introHeight = (paper: Paper, intro: string): number =>
  intro === '' ? 0 : paper.wrap(intro, styles.quiet, paper.width).length * styles.quiet.lead + 4;

/** A short table is never parted; a long one keeps its heading, its head and its first row together. */
function drawTableBlock(paper: Paper, block: ReportTable): void {
  const table = tableOf(paper, block);
  // A table of so many rows is parted whatever its height: nothing is measured for it.
  const whole = block.rows.length > MOST_KEPT ? Number.POSITIVE_INFINITY : tableHeight(paper, table);
  const page = paper.bottom - paper.top;
  const keep = introHeight(paper, block.intro) + (whole < page * 0.45 ? whole : openingHeight(paper, table));
  heading(paper, block.heading, keep);
  if (block.intro !== '') {
    paragraph(paper, block.intro, styles.quiet);
    paper.y += 4;
  }
  drawTable(paper, table);
}

function drawChartBlock(paper: Paper, block: ReportChart): void {
  heading(paper, block.heading, chartHeight(block));
  drawChart(paper, block);
}

function drawTextBlock(paper: Paper, block: ReportText): void {
  heading(paper, block.heading, 2 * styles.body.lead);
  for (const text of block.paragraphs) {
    paragraph(paper, text, styles.body);
    paper.y += 3;
  }
}

function drawBlock(paper: Paper, block: ReportBlock): void {
  if (block.kind === 'table') drawTableBlock(paper, block);
  else if (block.kind === 'chart') drawChartBlock(paper, block);
  else drawTextBlock(paper, block);
  paper.y += blockGap;
}

const figurePad = 8;
const perRow = 3;

/** Large figures in a ruled strip, three beside each other. */
function drawFigures(paper: Paper, data: ReportPaper): void {
  const width = paper.width / perRow;
  for (let at = 0; at < data.figures.length; at += perRow) {
    const row = data.figures.slice(at, at + perRow);
    const details = row.map((one) => paper.wrap(one.detail, styles.quiet, width - 2 * figurePad).length);
    const labels = row.map((one) => paper.wrap(one.label, styles.label, width - 2 * figurePad).length);
    const height =
      Math.max(...labels) * styles.label.lead +
      styles.figureLarge.lead +
      Math.max(...details) * styles.quiet.lead +
      2 * figurePad;
    paper.need(height);
    const top = paper.y;
    row.forEach((one, nth) => {
      labelled(
        paper,
        { x: paper.left + nth * width + figurePad, y: top + figurePad, width: width - 2 * figurePad },
        one.label,
        [
          { text: one.text, style: styles.figureLarge },
          { text: one.detail, style: styles.quiet },
        ],
      );
    });
    paper.furniture(() => {
      for (let nth = 1; nth < row.length; nth += 1)
        paper.rule(paper.left + nth * width, top, paper.left + nth * width, top + height, 0.4, ink.line);
      paper.pdf.lineWidth(0.9).strokeColor(ink.full).rect(paper.left, top, paper.width, height).stroke();
    });
    paper.y = top + height;
  }
  if (data.figures.length > 0) paper.y += blockGap;
}

const coverBlock = 290;

/** The first page of a report: whose, what, for when, and at its foot what stands behind it. */
function drawCover(paper: Paper, data: ReportPaper, lines: readonly string[]): void {
  const logo = paper.logo(paper.left, paper.top, 200, 90);
  if (logo === 0) paragraph(paper, data.workshopName, styles.name);
  paper.y = paper.top + (paper.bottom - paper.top) * 0.34;
  paragraph(paper, data.name, { ...styles.title, size: 30, lead: 36 });
  paper.y += 6;
  paragraph(
    paper,
    data.sentence,
    { ...styles.body, size: 11, lead: 15 },
    { x: paper.left, width: paper.width * 0.8 },
  );
  paper.y += 26;
  titleBlock(paper, { x: paper.left, y: paper.y, width: coverBlock }, data.title, data.mark, data.facts);
  const height = lines.reduce(
    (so, line) => so + paper.wrap(line, styles.quiet, paper.width).length * styles.quiet.lead + 2,
    0,
  );
  paper.y = Math.max(paper.y, paper.bottom - height);
  for (const line of lines) {
    paragraph(paper, line, styles.quiet);
    paper.y += 2;
  }
  paper.newPage();
}

/**
 * Sets a report.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderReport(data: ReportPaper): Promise<Uint8Array> {
  const foot = [data.title, data.mark].filter((part) => part !== '').join(' ');
  const paper = new Paper(data, { title: `${foot}, ${data.workshopName}`, foot, ghost: null });
  if (data.cover === null) sheetHead(paper, data);
  else drawCover(paper, data, data.cover.lines);
  drawFigures(paper, data);
  for (const block of data.blocks) drawBlock(paper, block);
  return paper.finish();
}

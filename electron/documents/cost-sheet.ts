/** The cost sheet of one knife on paper: what went in, hours by stage, the three views, and the working behind them. */
import { heading, labelled, paragraph, sheetHead } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import { columnGap, drawTable, openingHeight, tableHeight, type Row, type TableSpec } from './table.ts';
import type { CostSheetPaper } from './types.ts';
import { workingTable } from './working-table.ts';

const between = 26;
const sectionGap = 10;
const rowPadding = 1.2;

interface Block {
  readonly heading: string;
  readonly table: TableSpec;
}
interface Place {
  readonly x: number;
  readonly width: number;
}

const figureWidth = (paper: Paper, texts: readonly string[]): number =>
  Math.max(24, ...texts.map((text) => paper.textWidth(text, styles.figureStrong)));

const sectionBlocks = (paper: Paper, data: CostSheetPaper, place: Place): readonly Block[] => {
  const amounts = figureWidth(
    paper,
    data.sections.flatMap((section) => section.rows.map((row) => row.amount)),
  );
  const columns = [
    { head: '', width: place.width - amounts - columnGap, right: false },
    { head: '', width: amounts, right: true },
  ];
  return data.sections.map((section) => ({
    heading: section.heading,
    table: {
      x: place.x,
      columns,
      padding: rowPadding,
      besideText: true,
      rows: section.rows.map((row): Row => ({
        sum: row.strong,
        cells: [
          { text: row.label, style: row.strong ? styles.strong : styles.body, detail: row.detail },
          { text: row.amount, style: row.strong ? styles.figureStrong : styles.figure },
        ],
      })),
    },
  }));
};

const hoursBlock = (paper: Paper, data: CostSheetPaper, place: Place): Block => {
  const { rows } = data.hours;
  const times = figureWidth(
    paper,
    rows.map((row) => row.time),
  );
  const amounts = figureWidth(
    paper,
    rows.map((row) => row.amount),
  );
  return {
    heading: data.hours.heading,
    table: {
      x: place.x,
      columns: [
        { head: '', width: place.width - times - amounts - 2 * columnGap, right: false },
        { head: '', width: times, right: true },
        { head: '', width: amounts, right: true },
      ],
      padding: rowPadding,
      rows: rows.map((row): Row => ({
        sum: row.strong,
        cells: [
          { text: row.label, style: row.strong ? styles.strong : styles.body },
          { text: row.time, style: row.strong ? styles.figureStrong : styles.figure },
          { text: row.amount, style: row.strong ? styles.figureStrong : styles.figure },
        ],
      })),
    },
  };
};

const headingHeight = styles.heading.lead + 2;
const blockHeight = (paper: Paper, block: Block): number =>
  headingHeight + tableHeight(paper, block.table) + sectionGap;
const totalHeight = (paper: Paper, blocks: readonly Block[]): number =>
  blocks.reduce((sum, block) => sum + blockHeight(paper, block), 0);

const drawBlocks = (paper: Paper, blocks: readonly Block[], place: Place): void => {
  for (const block of blocks) {
    paper.need(headingHeight + openingHeight(paper, block.table));
    paragraph(paper, block.heading, styles.heading, place, 'H2');
    paper.y += 2;
    drawTable(paper, block.table);
    paper.y += sectionGap;
  }
};

/** Money on the left and hours on the right where both fit on the page; otherwise one under the other. */
const drawLedgers = (paper: Paper, data: CostSheetPaper): void => {
  const half = (paper.width - between) / 2;
  const left = { x: paper.left, width: half };
  const right = { x: paper.left + half + between, width: half };
  const narrow = sectionBlocks(paper, data, left);
  const hours = data.hours.rows.length === 0 ? [] : [hoursBlock(paper, data, right)];
  const height = Math.max(totalHeight(paper, narrow), totalHeight(paper, hours));
  if (height <= paper.room) {
    const top = paper.y;
    drawBlocks(paper, narrow, left);
    paper.y = top;
    drawBlocks(paper, hours, right);
    paper.y = top + height;
    return;
  }
  const full = { x: paper.left, width: paper.width };
  drawBlocks(paper, sectionBlocks(paper, data, full), full);
  if (hours.length > 0) drawBlocks(paper, [hoursBlock(paper, data, full)], full);
};

/** The three views side by side in a ruled strip. */
const drawViews = (paper: Paper, data: CostSheetPaper): void => {
  if (data.views.length === 0) return;
  const width = paper.width / data.views.length;
  const pad = 7;
  const meanings = data.views.map((view) => paper.wrap(view.meaning, styles.quiet, width - 2 * pad));
  const labels = data.views.map((view) => paper.wrap(view.label, styles.label, width - 2 * pad));
  const height =
    Math.max(...labels.map((lines) => lines.length)) * styles.label.lead +
    styles.figureLarge.lead +
    Math.max(...meanings.map((lines) => lines.length)) * styles.quiet.lead +
    2 * pad;
  paper.need(height);
  const top = paper.y;
  data.views.forEach((view, at) => {
    const x = paper.left + at * width;
    labelled(paper, { x: x + pad, y: top + pad, width: width - 2 * pad }, view.label, [
      { text: view.amount, style: styles.figureLarge },
      { text: view.meaning, style: styles.quiet },
    ]);
  });
  paper.furniture(() => {
    for (let at = 1; at < data.views.length; at += 1) {
      const x = paper.left + at * width;
      paper.rule(x, top, x, top + height, 0.4, ink.line);
    }
    paper.pdf.lineWidth(0.9).strokeColor(ink.full).rect(paper.left, top, paper.width, height).stroke();
  });
  paper.y = top + height + 14;
};

const drawWorking = (paper: Paper, data: CostSheetPaper): void => {
  const parts = data.working.filter((part) => part.rows.length > 0);
  if (parts.length === 0) return;
  const table = workingTable(paper, parts);
  heading(paper, 'Working', openingHeight(paper, table));
  drawTable(paper, table);
};

/**
 * Sets the cost sheet of one knife.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderCostSheet(data: CostSheetPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.serial}`;
  const paper = new Paper(data, { title: `${foot}, ${data.knife}`, foot, ghost: null });
  sheetHead(paper, { ...data, mark: data.serial, name: data.knife });
  drawLedgers(paper, data);
  drawViews(paper, data);
  for (const remark of data.remarks) {
    paragraph(paper, remark, styles.quiet);
    paper.y += 2;
  }
  paper.y += 10;
  drawWorking(paper, data);
  return paper.finish();
}

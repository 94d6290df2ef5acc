/** The record of one heat treatment on paper: which knives, what was done step by step, and what was found after. */
import { heading, paragraph, sheetHead } from './page.ts';
import { Paper, styles } from './paper.ts';
import { drawTable, fitColumns, openingHeight, type Row, type TableSpec } from './table.ts';
import type { HeatPaper } from './types.ts';

const rowPadding = 2;
const gap = 12;

const drawList = (paper: Paper, title: string, table: Omit<TableSpec, 'x' | 'padding'>): void => {
  if (table.rows.length === 0) return;
  const spec: TableSpec = { x: paper.left, padding: rowPadding, besideText: true, ...table };
  heading(paper, title, openingHeight(paper, spec));
  drawTable(paper, spec);
  paper.y += gap;
};

const stepHeads = ['Step', 'Celsius', 'Fahrenheit', 'Time'] as const;

const drawSteps = (paper: Paper, data: HeatPaper): void => {
  const rows = data.steps.map((step): Row => ({
    cells: [
      { text: step.label, style: styles.body, detail: step.note },
      { text: step.celsius, style: styles.figure },
      { text: step.fahrenheit, style: styles.figure },
      { text: step.time, style: styles.figure },
    ],
  }));
  drawList(paper, 'Steps', { columns: fitColumns(paper, paper.width, stepHeads, rows), rows });
};

const drawFound = (paper: Paper, data: HeatPaper): void => {
  const rows = data.checks.map((check): Row => ({
    cells: [
      { text: check.knife, style: styles.body, detail: check.on },
      { text: check.what, style: styles.body },
      { text: check.found, style: styles.body },
      { text: check.verdict, style: styles.body },
    ],
  }));
  const heads = ['Knife', 'Checked', 'Found', 'Verdict'] as const;
  const wide = paper.width - 3 * 14;
  const columns = heads.map((head, at) => ({
    head,
    right: false,
    width: wide * ([0.26, 0.16, 0.42, 0.16][at] ?? 0.25),
  }));
  drawList(paper, 'Checks after it', { columns, rows });
};

const drawKnives = (paper: Paper, data: HeatPaper): void => {
  const rows = data.knives.map((knife): Row => ({
    cells: [
      { text: knife.serial, style: styles.strong },
      { text: knife.name, style: styles.body },
    ],
  }));
  const serials = Math.max(60, ...data.knives.map((knife) => paper.textWidth(knife.serial, styles.strong)));
  const columns = [
    { head: '', width: serials, right: false },
    { head: '', width: paper.width - serials - 14, right: false },
  ];
  drawList(paper, 'Knives', { columns, rows });
};

/**
 * Sets the record of one heat treatment.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderHeat(data: HeatPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.tag}`;
  const paper = new Paper(data, { title: `${foot}, ${data.name}`, foot, ghost: null });
  sheetHead(paper, { ...data, mark: data.tag });
  drawSteps(paper, data);
  drawKnives(paper, data);
  drawFound(paper, data);
  for (const remark of data.remarks) {
    paragraph(paper, remark, styles.body);
    paper.y += 4;
  }
  for (const caution of data.cautions) {
    paragraph(paper, caution, styles.quiet);
    paper.y += 2;
  }
  return paper.finish();
}

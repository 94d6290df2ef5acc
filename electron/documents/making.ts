/** The sheet of one making on paper: the weights as a column drawn down, what it cost, what came out of it. */
import { heading, paragraph, sheetHead } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import { columnGap, drawTable, fitColumns, openingHeight, type Row, type TableSpec } from './table.ts';
import type { MakingPaper } from './types.ts';
import { workingTable } from './working-table.ts';

const rowPadding = 2;
const gap = 12;

const stepHeads = ['Step', 'Weight', 'Lost', 'Layers'] as const;

const stepRows = (data: MakingPaper): readonly Row[] =>
  data.steps.map((step) => ({
    cells: [
      {
        text: step.label,
        style: styles.body,
        detail: [step.on, step.detail].filter((part) => part !== '').join(', '),
      },
      { text: step.weight, style: styles.figure },
      { text: step.loss, style: styles.figure },
      { text: step.layers, style: styles.figure },
    ],
  }));

/** Bars beside the steps: how much of the first weight is still there, drawn like a section on a shop drawing. */
const drawColumn = (paper: Paper, parts: readonly (number | null)[]): void => {
  const height = 46;
  const weighed = parts.filter((part) => part !== null);
  if (weighed.length < 2) return;
  paper.need(height + gap);
  const top = paper.y;
  const wide = Math.min(54, paper.width / weighed.length);
  paper.furniture(() => {
    weighed.forEach((part, at) => {
      const x = paper.left + at * wide;
      const tall = Math.max(1, part * height);
      paper.pdf
        .lineWidth(0.6)
        .strokeColor(ink.full)
        .fillColor(ink.hair)
        .rect(x, top + height - tall, wide - 4, tall)
        .fillAndStroke();
    });
    paper.rule(paper.left, top + height, paper.left + weighed.length * wide, top + height, 0.7, ink.full);
  });
  paper.y = top + height + 4;
  paragraph(paper, 'Weight at each weighing, as a part of the first.', styles.quiet);
  paper.y += gap;
};

const drawSteps = (paper: Paper, data: MakingPaper): void => {
  if (data.steps.length === 0) return;
  const rows = stepRows(data);
  const table: TableSpec = {
    x: paper.left,
    columns: fitColumns(paper, paper.width, stepHeads, rows),
    rows,
    padding: rowPadding,
    besideText: true,
  };
  heading(paper, 'Steps', openingHeight(paper, table));
  drawTable(paper, table);
  paper.y += gap;
  drawColumn(
    paper,
    data.steps.map((step) => step.part),
  );
};

const drawSections = (paper: Paper, data: MakingPaper): void => {
  for (const section of data.sections) {
    const rows = section.rows.map((row): Row => ({
      sum: row.strong,
      cells: [
        { text: row.label, style: row.strong ? styles.strong : styles.body, detail: row.detail },
        { text: row.amount, style: row.strong ? styles.figureStrong : styles.figure },
      ],
    }));
    const widest = Math.max(
      24,
      ...section.rows.map((row) => paper.textWidth(row.amount, styles.figureStrong)),
    );
    const columns = [
      { head: '', width: paper.width - widest - columnGap, right: false },
      { head: '', width: widest, right: true },
    ];
    const table: TableSpec = { x: paper.left, columns, rows, padding: rowPadding, besideText: true };
    heading(paper, section.heading, openingHeight(paper, table));
    drawTable(paper, table);
    paper.y += gap;
  }
};

const outputHeads = ['What came out', 'Lot', 'How much', 'Hours', 'Worth'] as const;

const drawOutputs = (paper: Paper, data: MakingPaper): void => {
  if (data.outputs.length === 0) return;
  const rows = data.outputs.map((output): Row => ({
    cells: [
      { text: output.name, style: styles.body, detail: output.detail },
      { text: output.lot, style: styles.figure },
      { text: output.amount, style: styles.figure },
      { text: output.time, style: styles.figure },
      { text: output.value, style: styles.figure },
    ],
  }));
  const columns = fitColumns(paper, paper.width, outputHeads, rows);
  const table: TableSpec = { x: paper.left, columns, rows, padding: rowPadding };
  heading(paper, 'What came out of it', openingHeight(paper, table));
  drawTable(paper, table);
  paper.y += gap;
};

/**
 * Sets the sheet of one making.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderMaking(data: MakingPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.tag}`;
  const paper = new Paper(data, { title: `${foot}, ${data.name}`, foot, ghost: null });
  sheetHead(paper, { ...data, mark: data.tag });
  drawSteps(paper, data);
  drawSections(paper, data);
  drawOutputs(paper, data);
  for (const remark of data.remarks) {
    paragraph(paper, remark, styles.quiet);
    paper.y += 2;
  }
  paper.y += 10;
  const parts = data.working.filter((part) => part.rows.length > 0);
  if (parts.length > 0) {
    const table = workingTable(paper, parts);
    heading(paper, 'Working', openingHeight(paper, table));
    drawTable(paper, table);
  }
  return paper.finish();
}

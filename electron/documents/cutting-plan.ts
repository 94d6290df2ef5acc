/** A cutting plan on paper, for the saw: every bar and sheet drawn to one stated scale, with boxes to tick. */
import { heading, paragraph, sheetHead } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import { columnGap, drawTable, type Row, type TableSpec } from './table.ts';
import type { CuttingPaper } from './types.ts';

type Figure = CuttingPaper['figures'][number];
type Shape = Figure['shapes'][number];

const pointsPerMm = 72 / 25.4;
const barHeight = 24;
const gap = 12;
const hatchStep = 5;

/** Scales a rule can be laid on: full size, then reductions used on drawings (ISO 5455), and one between for bars. */
const scales = [1, 2, 2.5, 5, 10, 20, 50, 100] as const;

/** Tallest a sheet may be drawn, so that its list of cuts stays near it. */
const tallest = 350;

/** The largest scale at which everything fits. */
const scaleOf = (paper: Paper, data: CuttingPaper): number => {
  const fits = (scale: number): boolean =>
    data.figures.every(
      ({ lengthMm, widthMm }) =>
        (lengthMm * pointsPerMm) / scale <= paper.width && ((widthMm ?? 0) * pointsPerMm) / scale <= tallest,
    );
  return scales.find(fits) ?? scales[scales.length - 1] ?? 100;
};

interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Slanting lines, clipped to the box by reckoning: no clipping path to restore. */
const hatch = (paper: Paper, { x, y, width, height }: Box): void => {
  for (let at = hatchStep; at < width + height; at += hatchStep) {
    const x1 = x + Math.max(0, at - height);
    const y1 = y + Math.min(at, height);
    const x2 = x + Math.min(at, width);
    const y2 = y + Math.max(0, at - width);
    paper.rule(x1, y1, x2, y2, 0.4, ink.line);
  }
};

const drawShape = (paper: Paper, shape: Shape, box: Box): void => {
  const { pdf } = paper;
  pdf.lineWidth(0.7).strokeColor(ink.full);
  if (shape.kind === 'piece')
    pdf.fillColor(ink.hair).rect(box.x, box.y, box.width, box.height).fillAndStroke();
  else pdf.rect(box.x, box.y, box.width, box.height).stroke();
  if (shape.kind === 'waste') hatch(paper, box);
};

const drawMark = (paper: Paper, shape: Shape, box: Box): void => {
  const style = shape.kind === 'piece' ? styles.figureStrong : styles.smallFigure;
  const width = paper.textWidth(shape.mark, style);
  if (shape.mark === '' || shape.kind === 'waste' || width > box.width - 4 || box.height < style.size) return;
  paper.set(shape.mark, box.x + (box.width - width) / 2, box.y + box.height / 2 + style.size * 0.35, style);
};

const drawFigure = (paper: Paper, figure: Figure, scale: number): void => {
  const unit = pointsPerMm / scale;
  const height = figure.widthMm === null ? barHeight : figure.widthMm * unit;
  const top = paper.y;
  const boxOf = (shape: Shape): Box => ({
    x: paper.left + shape.x * unit,
    y: figure.widthMm === null ? top : top + shape.y * unit,
    width: shape.length * unit,
    height: figure.widthMm === null ? barHeight : shape.width * unit,
  });
  paper.furniture(() => {
    for (const shape of figure.shapes) drawShape(paper, shape, boxOf(shape));
    paper.pdf
      .lineWidth(1)
      .strokeColor(ink.full)
      .rect(paper.left, top, figure.lengthMm * unit, height)
      .stroke();
    for (const shape of figure.shapes) drawMark(paper, shape, boxOf(shape));
  });
  paper.y = top + height + 6;
};

const rowsOf = (figure: Figure): readonly Row[] =>
  figure.rows.map((row) => ({
    cells: [
      { text: row.mark, style: styles.figureStrong },
      { text: row.label, style: styles.body },
      { text: row.size, style: styles.figure },
      { text: row.worth, style: styles.figure },
      { text: '', style: styles.body },
    ],
  }));

const tableOf = (paper: Paper, figure: Figure): TableSpec => {
  const rows = rowsOf(figure);
  const widest = (at: number, least: number): number =>
    Math.max(
      least,
      ...rows.map((row) => {
        const cell = row.cells[at];
        return cell === undefined ? 0 : paper.textWidth(cell.text, cell.style);
      }),
    );
  const [mark, size, worth, done] = [widest(0, 18), widest(2, 60), widest(3, 44), 30];
  return {
    x: paper.left,
    columns: [
      { head: 'No.', width: mark, right: false },
      { head: 'For', width: paper.width - mark - size - worth - done - 4 * columnGap, right: false },
      { head: 'Size', width: size, right: true },
      { head: 'Worth', width: worth, right: true },
      { head: 'Cut', width: done, right: true },
    ],
    rows,
    padding: 2,
  };
};

/** A box to tick at the saw at the end of each piece's row. */
const drawTicks = (paper: Paper, figure: Figure, top: number, rowHeight: number): void => {
  const side = 8;
  paper.furniture(() => {
    for (const [at, row] of figure.rows.entries()) {
      if (row.mark === '') continue;
      const y = top + at * rowHeight + (rowHeight - side) / 2;
      paper.pdf
        .lineWidth(0.7)
        .strokeColor(ink.full)
        .rect(paper.left + paper.width - side, y, side, side)
        .stroke();
    }
  });
};

const drawOne = (paper: Paper, figure: Figure, scale: number): void => {
  const unit = pointsPerMm / scale;
  const height = figure.widthMm === null ? barHeight : figure.widthMm * unit;
  heading(paper, figure.heading, height + 60);
  drawFigure(paper, figure, scale);
  const table = tableOf(paper, figure);
  const before = paper.y;
  drawTable(paper, table);
  const rowHeight = styles.body.lead + 4;
  // Only where the table stayed on this page and every row kept to one line do the boxes fall on their rows.
  const used = paper.y - before - figure.rows.length * rowHeight;
  if (used > 0 && used < 2 * rowHeight) drawTicks(paper, figure, before + used, rowHeight);
  for (const [at, step] of figure.steps.entries()) {
    if (at === 0) {
      paper.y += 6;
      paragraph(
        paper,
        'The cuts, in this order. Of each size the first measure runs along the grain.',
        styles.quiet,
      );
      paper.y += 2;
    }
    paragraph(paper, `${at + 1}. ${step}`, styles.body);
  }
  paper.y += gap;
};

/**
 * Sets a cutting plan.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderCuttingPlan(data: CuttingPaper): Promise<Uint8Array> {
  const foot = `${data.title}, ${data.item}`;
  const paper = new Paper(data, { title: foot, foot, ghost: null });
  const scale = scaleOf(paper, data);
  const facts = [...data.facts, { label: 'Scale', text: `1 : ${scale}` }];
  sheetHead(paper, { ...data, mark: '', name: data.item, facts });
  for (const figure of data.figures) drawOne(paper, figure, scale);
  if (data.unplaced.length > 0) {
    heading(paper, 'Finds no place', 20);
    for (const name of data.unplaced) paragraph(paper, name, styles.body);
    paper.y += gap;
  }
  paragraph(paper, data.caution, styles.quiet);
  return paper.finish();
}

/** Charts of a report, drawn as lines and areas in ink: columns by month, stacked areas over time, bars with their figures. */
import { ink, styles, type Paper, type Style } from './paper.ts';
import type { BarChart, GraphChart, ReportChart } from './report-types.ts';

/** Tones that stay apart in black and white: dark ink, a browner one, a pale one. */
const tones = [ink.full, '#a3988a', '#d9cfbf'] as const;
const toneOf = (at: number): string => tones[at % tones.length] ?? ink.full;
/** The lowest area is the largest: it is the palest. */
const areaTone = (at: number): string => tones[tones.length - 1 - (at % tones.length)] ?? ink.full;

const graphHeight = 150;
const axisGap = 8;
const labelLine = styles.label.lead + 4;
const legendLine = styles.quiet.lead + 6;
const barLine = 14.5;
const barThick = 8;

const fill = (paper: Paper, colour: string, points: readonly (readonly [number, number])[]): void => {
  const [first, ...rest] = points;
  if (first === undefined) return;
  paper.pdf.moveTo(first[0], first[1]);
  for (const [x, y] of rest) paper.pdf.lineTo(x, y);
  paper.pdf.fillColor(colour).fill();
};

const box = (paper: Paper, colour: string, x: number, y: number, width: number, height: number): void => {
  if (height < 0.05 || width < 0.05) return;
  paper.pdf.rect(x, y, width, height).fillColor(colour).fill();
};

interface Ground {
  readonly x: number;
  readonly width: number;
  /** Height on the page of a value. */
  at(value: number): number;
}

const extent = (chart: GraphChart): readonly [number, number] => {
  const ats = chart.ticks.map((tick) => tick.at);
  return [Math.min(0, ...ats), Math.max(1, ...ats)];
};

const groundOf = (paper: Paper, chart: GraphChart): Ground => {
  const axis = Math.max(0, ...chart.ticks.map((tick) => paper.textWidth(tick.text, styles.smallFigure)));
  const [low, high] = extent(chart);
  const top = paper.y + legendLine + 4;
  return {
    x: paper.left + axis + axisGap,
    width: paper.width - axis - axisGap,
    at: (value) => top + ((high - value) / (high - low)) * graphHeight,
  };
};

const drawTicks = (paper: Paper, chart: GraphChart, ground: Ground): void => {
  for (const tick of chart.ticks) {
    const y = ground.at(tick.at);
    paper.rule(
      ground.x,
      y,
      ground.x + ground.width,
      y,
      tick.at === 0 ? 0.7 : 0.3,
      tick.at === 0 ? ink.full : ink.hair,
    );
    paper.set(tick.text, ground.x - axisGap, y + 2.4, styles.smallFigure, true);
  }
};

/** Labels under the ground; where they would touch, only every second, third … */
const drawLabels = (paper: Paper, chart: GraphChart, ground: Ground, y: number): void => {
  const step = ground.width / Math.max(1, chart.labels.length);
  const widest = Math.max(0, ...chart.labels.map((label) => paper.textWidth(label, styles.label)));
  const every = Math.max(1, Math.ceil((widest + 6) / step));
  chart.labels.forEach((label, at) => {
    if (at % every !== 0) return;
    const middle = ground.x + step * (at + 0.5);
    paper.set(label, middle - paper.textWidth(label, styles.label) / 2, y + styles.label.lead, styles.label);
  });
};

const drawLegend = (paper: Paper, chart: GraphChart, x: number, y: number): void => {
  const tone = chart.shape === 'areas' ? areaTone : toneOf;
  let at = x;
  chart.series.forEach(({ name }, nth) => {
    box(paper, tone(nth), at, y + 2, 8, 8);
    paper.pdf
      .lineWidth(0.4)
      .strokeColor(ink.full)
      .rect(at, y + 2, 8, 8)
      .stroke();
    paper.set(name, at + 12, y + 9, styles.quiet);
    at += 12 + paper.textWidth(name, styles.quiet) + 16;
  });
};

const drawColumns = (paper: Paper, chart: GraphChart, ground: Ground): void => {
  const step = ground.width / Math.max(1, chart.labels.length);
  const each = Math.min(16, (step * 0.72) / Math.max(1, chart.series.length));
  const zero = ground.at(0);
  chart.series.forEach(({ values }, nth) => {
    values.forEach((value, at) => {
      const x = ground.x + step * (at + 0.5) + each * (nth - chart.series.length / 2);
      const y = ground.at(value);
      box(paper, toneOf(nth), x, Math.min(y, zero), each - 1, Math.abs(y - zero));
    });
  });
};

const drawAreas = (paper: Paper, chart: GraphChart, ground: Ground): void => {
  const count = chart.labels.length;
  const step = ground.width / Math.max(1, count);
  const x = (at: number): number => ground.x + step * (at + 0.5);
  let below: readonly number[] = chart.labels.map(() => 0);
  chart.series.forEach(({ values }, nth) => {
    const base = below;
    const above = base.map((value, at) => value + (values[at] ?? 0));
    const up = above.map((value, at) => [x(at), ground.at(value)] as const);
    const down = base.map((value, at) => [x(at), ground.at(value)] as const).toReversed();
    fill(paper, areaTone(nth), [...up, ...down]);
    up.forEach(([x2, y2], at) => {
      const from = up[at - 1];
      if (from !== undefined) paper.rule(from[0], from[1], x2, y2, 0.6, ink.full);
    });
    below = above;
  });
};

const drawGraph = (paper: Paper, chart: GraphChart): void => {
  const top = paper.y;
  const ground = groundOf(paper, chart);
  if (chart.series.length > 1 || chart.shape === 'areas') drawLegend(paper, chart, ground.x, top);
  if (chart.shape === 'columns') {
    drawTicks(paper, chart, ground);
    drawColumns(paper, chart, ground);
  } else {
    drawAreas(paper, chart, ground);
    drawTicks(paper, chart, ground);
  }
  const foot = top + legendLine + 4 + graphHeight;
  drawLabels(paper, chart, ground, foot + 2);
};

const barStyle: Style = styles.body;

const drawBars = (paper: Paper, { bars }: BarChart): void => {
  const labels = Math.min(
    paper.width * 0.36,
    Math.max(0, ...bars.map((bar) => paper.textWidth(bar.label, barStyle))),
  );
  const texts = Math.max(0, ...bars.map((bar) => paper.textWidth(bar.text, styles.figure)));
  const ground = paper.width - labels - texts - 24;
  const most = Math.max(1, ...bars.map((bar) => Math.abs(bar.value)));
  bars.forEach((bar, at) => {
    const y = paper.y + at * barLine;
    paper.set(paper.wrap(bar.label, barStyle, labels + 1)[0] ?? '', paper.left, y + 10, barStyle);
    const width = (Math.abs(bar.value) / most) * ground;
    box(paper, bar.value < 0 ? toneOf(1) : toneOf(0), paper.left + labels + 12, y + 3, width, barThick);
    paper.set(bar.text, paper.left + paper.width, y + 10, styles.figure, true);
  });
};

/** Height a chart takes. */
export const chartHeight = ({ chart }: ReportChart): number =>
  chart.shape === 'bars' ? chart.bars.length * barLine + 6 : legendLine + 4 + graphHeight + labelLine + 6;

/** Draws a chart from the paper's present place down; one figure for readers aloud. */
export function drawChart(paper: Paper, block: ReportChart): void {
  const { chart } = block;
  paper.figure(block.alt, () => {
    if (chart.shape === 'bars') drawBars(paper, chart);
    else drawGraph(paper, chart);
  });
  paper.y += chartHeight(block);
}

/** Plain data of a report on paper: a head or a cover, then tables, charts and text, one under the other. Figures arrive as finished text. */
import type { PaperFrame } from './types.ts';

export interface ReportFact {
  readonly label: string;
  readonly text: string;
}

export interface ReportRow {
  readonly cells: readonly string[];
  /** Said quietly under the first cell. */
  readonly detail: string;
  /** It adds up what stands over it. */
  readonly sum: boolean;
  /** Set in the strong face without a line above. */
  readonly strong: boolean;
}

export interface ReportTable {
  readonly kind: 'table';
  readonly heading: string;
  /** Between heading and table; empty for none. */
  readonly intro: string;
  /** The first column takes text, the others figures unless named in `texts`. */
  readonly heads: readonly string[];
  /** Columns set to the left, by their place. */
  readonly texts: readonly number[];
  readonly rows: readonly ReportRow[];
}

export interface ReportText {
  readonly kind: 'text';
  readonly heading: string;
  readonly paragraphs: readonly string[];
}

/** Where an axis is marked. */
export interface Tick {
  readonly at: number;
  readonly text: string;
}

export interface Series {
  readonly name: string;
  readonly values: readonly number[];
}

/** Columns side by side for each label, or areas stacked over them. */
export interface GraphChart {
  readonly shape: 'columns' | 'areas';
  readonly labels: readonly string[];
  readonly series: readonly Series[];
  readonly ticks: readonly Tick[];
}

/** One bar for each label, from the left, with its figure. */
export interface BarChart {
  readonly shape: 'bars';
  readonly bars: readonly { readonly label: string; readonly value: number; readonly text: string }[];
}

export interface ReportChart {
  readonly kind: 'chart';
  readonly heading: string;
  /** What the chart says, for readers aloud. */
  readonly alt: string;
  readonly chart: GraphChart | BarChart;
}

export type ReportBlock = ReportTable | ReportText | ReportChart;

/** A large figure at a glance. */
export interface ReportFigure {
  readonly label: string;
  readonly text: string;
  /** Said quietly under it, e.g. the year before. */
  readonly detail: string;
}

export interface ReportPaper extends PaperFrame {
  readonly title: string;
  readonly mark: string;
  readonly facts: readonly ReportFact[];
  readonly name: string;
  readonly sentence: string;
  /** Set large under the head; none: no strip. */
  readonly figures: readonly ReportFigure[];
  /** The head and what stands at its foot get a page of their own. */
  readonly cover: { readonly lines: readonly string[] } | null;
  readonly blocks: readonly ReportBlock[];
}

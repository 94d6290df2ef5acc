/** A report of any length, invented, as the yearly report sets one. */
import type {
  ReportBlock,
  ReportPaper,
  ReportRow,
  ReportTable,
} from '../../electron/documents/report-types.ts';

const row = (at: number): ReportRow => ({
  cells: [`Knife W${String(at).padStart(4, '0')}, walnut`, '1', '150.00', '42.17', '102.78', '6.83'],
  detail: at % 7 === 0 ? 'Made to order, delivered late' : '',
  sum: false,
  strong: false,
});

/** A table of so many knives and their sum. */
export const longTable = (rows: number): ReportTable => ({
  kind: 'table',
  heading: 'By knife',
  intro: 'Each knife as its sheet has it.',
  heads: ['Knife', 'Sold', 'Sales', 'Direct cost', 'Contribution', 'Hours'],
  texts: [],
  rows: [
    ...Array.from({ length: rows }, (_, at) => row(at + 1)),
    {
      cells: [`Together ${String(rows)}`, String(rows), '1,000.00', '500.00', '500.00', '90.00'],
      detail: '',
      sum: true,
      strong: false,
    },
  ],
});

export const months: ReportBlock = {
  kind: 'chart',
  heading: 'Month by month',
  alt: 'Columns of income, by month: January 786.00; February -87.91',
  chart: {
    shape: 'columns',
    labels: ['01/25', '02/25'],
    series: [
      { name: 'Income', values: [78_600, 14_400] },
      { name: 'Left', values: [10_474, -8_791] },
    ],
    ticks: [
      { at: -20_000, text: '-200' },
      { at: 0, text: '0' },
      { at: 80_000, text: '800' },
    ],
  },
};

/** @param blocks what stands after the figures */
export const reportPaper = (
  blocks: readonly ReportBlock[],
  more: Partial<ReportPaper> = {},
): ReportPaper => ({
  size: 'Letter',
  language: 'en',
  madeAt: '2026-01-04T09:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  folio: 'page {page} of {pages}',
  title: 'Yearly report',
  mark: '2025',
  facts: [
    { label: 'First day', text: '1 Jan 2025' },
    { label: 'Last day', text: '31 Dec 2025' },
  ],
  name: 'Yearly report 2025',
  sentence: 'What came in, what it took and what was left.',
  figures: [
    { label: 'Income', text: '13,860.75', detail: 'the year before 4,871.00' },
    { label: 'Left', text: '7,321.62', detail: 'the year before 2,080.54' },
    { label: 'Knives sold', text: '24', detail: '' },
    { label: 'Stock', text: '1,105.91', detail: '' },
  ],
  cover: { lines: ['This year was closed on 4 Jan 2026. Its seal: 0123abcd.'] },
  blocks,
  ...more,
});

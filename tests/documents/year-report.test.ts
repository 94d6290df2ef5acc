/** A report on paper, read back by an independent reader: cover, figures, tables that keep their sums, charts as vectors. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { axisMarks } from '../../electron/domain/axis.ts';
import { renderReport } from '../../electron/documents/report.ts';
import type { ReportBlock } from '../../electron/documents/report-types.ts';
import { longTable, months, reportPaper } from './report-paper.ts';
import { readBack, textOf } from './read-back.ts';

const bars: ReportBlock = {
  kind: 'chart',
  heading: 'Where the hours went',
  alt: 'Bars of hours: Hand finish 44.67; Sheath 16.50',
  chart: {
    shape: 'bars',
    bars: [
      { label: 'Hand finish', value: 2680, text: '44.67' },
      { label: 'Sheath', value: 990, text: '16.50' },
    ],
  },
};
const areas: ReportBlock = {
  kind: 'chart',
  heading: 'Stock at cost',
  alt: 'Areas of stock',
  chart: {
    shape: 'areas',
    labels: ['12/24', '01/25', '02/25'],
    series: [
      { name: 'Raw', values: [626, 1277, 891] },
      { name: 'Finished', values: [124, 0, 412] },
    ],
    ticks: [
      { at: 0, text: '0' },
      { at: 1500, text: '1,500' },
    ],
  },
};
const notes: ReportBlock = { kind: 'text', heading: 'Notes', paragraphs: ['Sales tax is not income.'] };

/** The same in two columns: fewer words to read back. */
const narrow = (rows: number): ReportBlock => {
  const { heads, ...table } = longTable(rows);
  const cells = table.rows.map((row) => ({ ...row, cells: row.cells.slice(0, 2) }));
  return { ...table, heads: heads.slice(0, 2), rows: cells };
};

describe('a report on paper', () => {
  it('has a cover with year and seal, then the year at a glance, charts with their words, and its parts in order', async () => {
    const read = await readBack(await renderReport(reportPaper([months, longTable(3), bars, areas, notes])));
    expect(read.pages.length).toBe(3);
    const cover = (read.pages[0] ?? []).map((word) => word.text).join(' ');
    expect(cover).toContain('Its seal: 0123abcd.');
    expect(cover).not.toContain('13,860.75');
    const text = textOf(read);
    const order = [
      'Yearly report 2025',
      '13,860.75',
      'Month by month',
      'By knife',
      'Together 3',
      'Where the hours went',
      'Hand finish',
      'Stock at cost',
      'Sales tax is not income.',
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect([read.marked, read.language, read.title]).toEqual([
      true,
      'en',
      'Yearly report 2025, Sedgewarren Edge Shop',
    ]);
    expect(read.tags.filter((tag) => tag === 'Figure')).toHaveLength(3);
    expect(read.tags).toEqual(expect.arrayContaining(['H1', 'H2', 'Table', 'TR', 'TH', 'TD', 'P']));
  });

  it('draws charts as paths, never as pictures, and embeds every face', async () => {
    const bytes = await renderReport(reportPaper([months, bars, areas]));
    const raw = Buffer.from(bytes).toString('latin1');
    expect(raw).not.toContain('/Subtype /Image');
    expect(raw.match(/\/FontFile[23]/g)?.length ?? 0).toBeGreaterThan(0);
    expect(raw.match(/\/FontDescriptor /g)?.length).toBe(raw.match(/\/FontFile[23]/g)?.length);
    expect(Buffer.from(await renderReport(reportPaper([months, bars, areas])))).toEqual(Buffer.from(bytes));
  });

  it.each(['A4', 'Letter'] as const)('never leaves a sum alone at the top of a page, on %s', async (size) => {
    // Tables of many lengths one after the other: their ends fall on every height of a page.
    const lengths = Array.from({ length: 24 }, (_, at) => 26 + at);
    const read = await readBack(await renderReport(reportPaper(lengths.map(narrow), { size })));
    for (const rows of lengths) {
      const sum = `Together ${String(rows)}`;
      const page = read.pages.find((words) => words.some((word) => word.text === sum)) ?? [];
      const at = page.findIndex((word) => word.text === sum);
      const above = page.slice(0, at).findLast((word) => word.text.startsWith('Knife W'));
      expect([rows, above?.text]).toEqual([rows, `Knife W${String(rows).padStart(4, '0')}, walnut`]);
    }
    const edge = size === 'A4' ? 595.28 : 612;
    for (const words of read.pages) for (const word of words) expect(word.end).toBeLessThanOrEqual(edge - 50);
  });
});

describe('marks of an axis', () => {
  it('hold every value, lie evenly, are few, and nought is among them', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -1e12, max: 1e12 }), { minLength: 1, maxLength: 30 }),
        (values) => {
          const marks = axisMarks(values);
          expect(marks[0]).toBeLessThanOrEqual(Math.min(0, ...values));
          expect(marks.at(-1)).toBeGreaterThanOrEqual(Math.max(0, ...values));
          expect(marks.some((at) => at === 0)).toBe(true);
          expect(marks.length).toBeLessThanOrEqual(8);
          const step = (marks[1] ?? 0) - (marks[0] ?? 0);
          marks.slice(1).forEach((at, nth) => expect(at - (marks[nth] ?? 0)).toBeCloseTo(step, 3));
        },
      ),
      { numRuns: 100 },
    );
    expect(axisMarks([786, -87])).toEqual([-200, 0, 200, 400, 600, 800]);
  });
});

/** A report of forty pages against bare pdfkit setting the same strings in the same typeface at the same places. */
import assert from 'node:assert/strict';
import { renderReport } from '../../electron/documents/report.ts';
import type { ReportPaper } from '../../electron/documents/report-types.ts';
import { longTable, months, reportPaper } from '../documents/report-paper.ts';
import { readBack, textOf } from '../documents/read-back.ts';
import { barePaper } from './bare-paper.ts';
import { compare } from './pairs.ts';

const pages = 40;

/** Pages of a file, counted by their objects. */
const pagesOf = (pdf: Uint8Array): number =>
  Buffer.from(pdf)
    .toString('latin1')
    .split(/\/Type \/Page\b(?!s)/).length - 1;

/** So many knives that the report has forty pages: the figures, a chart, and a table through all the rest. */
const longReport = async (): Promise<ReportPaper> => {
  let rows = 1200;
  for (let tries = 0; tries < 20; tries += 1) {
    const paper = reportPaper([months, longTable(rows)]);
    const now = pagesOf(await renderReport(paper));
    if (now === pages) return paper;
    rows = Math.round(rows * ((pages - 2.5) / (now - 2.5)));
  }
  throw new Error('No number of knives gives forty pages');
};

const paper = await longReport();
const ours = await readBack(await renderReport(paper));
const theirs = await readBack(await barePaper(ours.pages));
assert.equal(ours.pages.length, pages);
assert.equal(textOf(theirs), textOf(ours));
await compare({
  name: `yearly report of ${pages} pages`,
  limit: 1.5,
  floorIs: `bare pdfkit, the same ${ours.pages.flat().length.toLocaleString('en')} strings in the same typeface, without tags, rules or charts`,
  ours: { run: () => renderReport(paper) },
  floor: { run: () => barePaper(ours.pages) },
});

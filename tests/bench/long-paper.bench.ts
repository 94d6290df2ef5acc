/** A paper of 100 pages against bare pdfkit setting the same strings in the same typeface at the same places. */
import assert from 'node:assert/strict';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import type { InvoicePaper } from '../../electron/documents/types.ts';
import { invoicePaper } from '../documents/papers.ts';
import { readBack, textOf } from '../documents/read-back.ts';
import { barePaper } from './bare-paper.ts';
import { compare } from './pairs.ts';

const pages = 100;
const linesFor = (count: number): InvoicePaper['lines'] =>
  Array.from({ length: count }, (_, at) => ({
    description: `Tessel paring ${at + 1}, full tang`,
    detail: `Serial W${String(at + 1).padStart(4, '0')}, walnut, stainless strip`,
    qty: '1',
    unitPrice: '150.00',
    tax: '6.5 %',
    amount: '150.00',
  }));

/** Pages of a file, counted by their objects. */
const pagesOf = (pdf: Uint8Array): number =>
  Buffer.from(pdf)
    .toString('latin1')
    .split(/\/Type \/Page\b(?!s)/).length - 1;

/** So many lines that the paper has a hundred pages. */
const longPaper = async (): Promise<InvoicePaper> => {
  let count = 2000;
  for (let tries = 0; tries < 20; tries += 1) {
    const paper = { ...invoicePaper, lines: linesFor(count) };
    const now = pagesOf(await renderInvoice(paper));
    if (now === pages) return paper;
    count = Math.round(count * ((pages - 0.5) / (now - 0.5)));
  }
  throw new Error('No number of lines gives a hundred pages');
};

const paper = await longPaper();
const ours = await readBack(await renderInvoice(paper));
const theirs = await readBack(await barePaper(ours.pages));
assert.equal(ours.pages.length, pages);
assert.equal(textOf(theirs), textOf(ours));
await compare({
  name: `paper of ${pages} pages`,
  limit: 1.5,
  floorIs: `bare pdfkit, the same ${ours.pages.flat().length.toLocaleString('en')} strings in the same typeface, without tags or rules`,
  ours: { run: () => renderInvoice(paper) },
  floor: { run: () => barePaper(ours.pages) },
});

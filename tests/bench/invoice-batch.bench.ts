/** A hundred invoices in one batch against bare pdfkit setting the same strings in the same typefaces, a file each. */
import assert from 'node:assert/strict';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import { invoicePaper } from '../documents/papers.ts';
import { readBack, textOf } from '../documents/read-back.ts';
import { barePaper } from './bare-paper.ts';
import { compare } from './pairs.ts';

const count = 100;
const invoices = Array.from({ length: count }, (_, at) => ({
  ...invoicePaper,
  number: `2025-${String(at + 1).padStart(4, '0')}`,
}));
const words = await Promise.all(
  invoices.map(async (paper) => (await readBack(await renderInvoice(paper))).pages),
);

const [first = []] = words;
assert.equal(
  textOf(await readBack(await barePaper(first))),
  first
    .flat()
    .map(({ text }) => text)
    .join(' '),
);

const eachInTurn = async <T>(of: readonly T[], draw: (one: T) => Promise<Uint8Array>): Promise<void> => {
  for (const one of of) await draw(one);
};

await compare({
  pairs: 3,
  name: `batch of ${count} invoices`,
  limit: 1.5,
  floorIs: `bare pdfkit, the same strings in the same typefaces, ${count} files`,
  ours: { run: () => eachInTurn(invoices, renderInvoice) },
  floor: { run: () => eachInTurn(words, barePaper) },
});

/** The invoice and the credit note on paper. */
import { labelled, paragraph, titleBlock } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import { drawTable, fitColumns, type Row } from './table.ts';
import type { InvoicePaper } from './types.ts';

const blockWidth = 226;

const drawHead = (paper: Paper, data: InvoicePaper): void => {
  const width = paper.width - blockWidth - 24;
  const x = paper.left;
  const block = { x: paper.left + paper.width - blockWidth, y: paper.top, width: blockWidth };
  const facts =
    data.seller.taxNumber === ''
      ? data.facts
      : [...data.facts, { label: 'Our tax number', text: data.seller.taxNumber }];
  paragraph(paper, data.seller.name, styles.name, { x, width });
  paper.y += 2;
  for (const line of data.seller.lines) paragraph(paper, line, styles.body, { x, width });
  if (data.seller.contact.length > 0) paper.y += 3;
  for (const line of data.seller.contact) paragraph(paper, line, styles.quiet, { x, width });
  const sellerEnd = paper.y;
  const blockEnd = block.y + titleBlock(paper, block, data.title, data.number, facts);
  const buyerTop = Math.max(sellerEnd + 18, paper.top + 92);
  const used = labelled(paper, { x, y: buyerTop, width }, 'For', [
    { text: data.buyer.name, style: styles.strong },
    ...data.buyer.lines.map((text) => ({ text, style: styles.body })),
  ]);
  paper.y = Math.max(buyerTop + used, blockEnd) + 22;
};

/** Where no line is taxed, an empty column would only ask a question. */
const isTaxed = (data: InvoicePaper): boolean => data.lines.some((line) => line.tax !== '');

const headNames = (taxed: boolean): readonly string[] => [
  'What',
  'Quantity',
  'Each',
  ...(taxed ? ['Tax'] : []),
  'Amount',
];

const tableRows = (data: InvoicePaper, taxed: boolean): readonly Row[] =>
  data.lines.map((line) => ({
    cells: [
      { text: line.description, style: styles.body, detail: line.detail },
      { text: line.qty, style: styles.figure },
      { text: line.unitPrice, style: styles.figure },
      ...(taxed ? [{ text: line.tax, style: styles.figure }] : []),
      { text: line.amount, style: styles.figure },
    ],
  }));

const totalWidth = 226;
const totalLead = 17;

/** The sums, hung under the amounts; one table of two columns for readers aloud. */
const drawTotals = (paper: Paper, data: InvoicePaper): void => {
  const right = paper.left + paper.width;
  const x = right - totalWidth;
  paper.y += 6;
  paper.group('Table', () => {
    for (const total of data.totals) {
      const baseline = paper.y + totalLead - 5;
      paper.group('TR', () => {
        paper.leaf(
          'TH',
          () => paper.set(total.label, x, baseline, total.strong ? styles.strong : styles.body),
          'Row',
        );
        paper.leaf('TD', () =>
          paper.set(total.amount, right, baseline, total.strong ? styles.figureStrong : styles.figure, true),
        );
      });
      if (total.strong) {
        paper.furniture(() => {
          paper.rule(x, paper.y, right, paper.y, 0.7, ink.full);
          paper.rule(x, paper.y + totalLead, right, paper.y + totalLead, 0.7, ink.full);
        });
      }
      paper.y += totalLead;
    }
  });
};

/**
 * Sets an invoice or a credit note.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderInvoice(data: InvoicePaper): Promise<Uint8Array> {
  const title = `${data.title} ${data.number}`.trim();
  const paper = new Paper(data, {
    title: `${title}, ${data.workshopName}`,
    foot: title,
    ghost: data.draftMark,
  });
  drawHead(paper, data);
  const taxed = isTaxed(data);
  const rows = tableRows(data, taxed);
  const columns = fitColumns(paper, paper.width, headNames(taxed), rows);
  const keepAfter = 6 + data.totals.length * totalLead;
  drawTable(paper, { x: paper.left, columns, rows, keepAfter });
  paper.need(keepAfter);
  drawTotals(paper, data);
  paper.y += 18;
  for (const note of data.notes) {
    paragraph(paper, note, styles.body, { x: paper.left, width: Math.min(paper.width, 400) });
    paper.y += 6;
  }
  return paper.finish();
}

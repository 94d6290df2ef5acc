/** Invoices and credit notes on paper. */
import { labelled, paragraph, titleBlock } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import { drawPayment } from './payment.ts';
import { drawTable, fitColumns, type Row } from './table.ts';
import type { InvoicePaper } from './types.ts';

const blockWidth = 226;
const logoBox = { width: 190, height: 54 };

/** The maker: the logo where there is one, name, address, and how to reach them. */
export function drawSender(paper: Paper, seller: InvoicePaper['seller'], width: number): void {
  const x = paper.left;
  const high = paper.logo(x, paper.y, Math.min(logoBox.width, width), logoBox.height);
  if (high > 0) paper.y += high + 8;
  paragraph(paper, seller.name, high > 0 ? styles.strong : styles.name, { x, width });
  paper.y += high > 0 ? 0 : 2;
  for (const line of seller.lines) paragraph(paper, line, styles.body, { x, width });
  if (seller.contact.length > 0) paper.y += 3;
  for (const line of seller.contact) paragraph(paper, line, styles.quiet, { x, width });
}

function drawHead(paper: Paper, data: InvoicePaper): void {
  const width = paper.width - blockWidth - 24;
  const block = { x: paper.left + paper.width - blockWidth, y: paper.top, width: blockWidth };
  drawSender(paper, data.seller, width);
  const sellerEnd = paper.y;
  const blockEnd = block.y + titleBlock(paper, block, data.title, data.number, data.facts);
  const buyerTop = Math.max(sellerEnd + 18, paper.top + 92);
  const used = labelled(paper, { x: paper.left, y: buyerTop, width }, data.labels.to, [
    { text: data.buyer.name, style: styles.strong },
    ...data.buyer.lines.map((text) => ({ text, style: styles.body })),
  ]);
  paper.y = Math.max(buyerTop + used, blockEnd) + 22;
}

/** Where no line is taxed, an empty column would only ask a question. */
const isTaxed = (data: InvoicePaper): boolean => data.lines.some((line) => line.tax !== '');

const headNames = ({ labels }: InvoicePaper, taxed: boolean): readonly string[] => [
  labels.what,
  labels.quantity,
  labels.each,
  ...(taxed ? [labels.tax] : []),
  labels.amount,
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

type Total = InvoicePaper['totals'][number];

const totalGap = 14;
const totalPad = 4.5;

interface SetTotal {
  readonly total: Total;
  readonly lines: readonly string[];
  readonly height: number;
}

interface Totals {
  readonly x: number;
  readonly rows: readonly SetTotal[];
  readonly height: number;
}

/** Measures the sums: as narrow as the title block, wider where a deposit's name needs it. */
export function measureTotals(paper: Paper, totals: readonly Total[]): Totals {
  const style = (total: Total) => (total.strong ? styles.strong : styles.body);
  const figures = (total: Total) => (total.strong ? styles.figureStrong : styles.figure);
  const amount = Math.max(0, ...totals.map((total) => paper.textWidth(total.amount, figures(total))));
  const label = Math.max(0, ...totals.map((total) => paper.textWidth(total.label, style(total))));
  const width = Math.min(Math.max(blockWidth, label + totalGap + amount), paper.width * 0.68);
  const rows = totals.map((total) => {
    const lines = paper.wrap(total.label, style(total), width - totalGap - amount);
    return { total, lines, height: lines.length * style(total).lead + totalPad };
  });
  const height = 6 + rows.reduce((sum, row) => sum + row.height, 0);
  return { x: paper.left + paper.width - width, rows, height };
}

function drawTotal(paper: Paper, x: number, { total, lines, height }: SetTotal): void {
  const right = paper.left + paper.width;
  const style = total.strong ? styles.strong : styles.body;
  const baseline = paper.y + totalPad / 2 + style.lead - 3;
  paper.group('TR', () => {
    paper.leaf(
      'TH',
      () => lines.forEach((line, at) => paper.set(line, x, baseline + at * style.lead, style)),
      'Row',
    );
    // Beside the last line of a long label, where the eye arrives.
    const last = baseline + (lines.length - 1) * style.lead;
    const figure = total.strong ? styles.figureStrong : styles.figure;
    paper.leaf('TD', () => paper.set(total.amount, right, last, figure, true));
  });
  if (total.strong) {
    paper.furniture(() => {
      paper.rule(x, paper.y, right, paper.y, 0.7, ink.full);
      paper.rule(x, paper.y + height, right, paper.y + height, 0.7, ink.full);
    });
  }
  paper.y += height;
}

/** The sums, hung under the amounts; one table of two columns for readers aloud. */
export function drawTotals(paper: Paper, totals: Totals): void {
  paper.need(totals.height);
  paper.y += 6;
  paper.group('Table', () => {
    for (const row of totals.rows) drawTotal(paper, totals.x, row);
  });
}

/** A column that is easily read. */
const noteWidth = 400;

function drawNotes(paper: Paper, data: InvoicePaper): void {
  const place = { x: paper.left, width: Math.min(paper.width, noteWidth) };
  for (const note of data.notes) {
    paragraph(paper, note, styles.body, place);
    paper.y += 6;
  }
  for (const { heading, text } of data.remarks) {
    paper.need(styles.smallStrong.lead + 2 * styles.quiet.lead + 5);
    paper.y += 3;
    paragraph(paper, heading, styles.smallStrong, place, 'H2');
    paper.y += 1;
    paragraph(paper, text, styles.quiet, place);
    paper.y += 3;
  }
}

/** Sets an invoice onto an opened paper. */
export function setInvoice(paper: Paper, data: InvoicePaper): void {
  drawHead(paper, data);
  const taxed = isTaxed(data);
  const rows = tableRows(data, taxed);
  const columns = fitColumns(paper, paper.width, headNames(data, taxed), rows);
  const totals = measureTotals(paper, data.totals);
  drawTable(paper, { x: paper.left, columns, rows, keepAfter: totals.height });
  drawTotals(paper, totals);
  paper.y += 18;
  if (data.payment !== null) drawPayment(paper, data.payment);
  drawNotes(paper, data);
}

/** What an invoice is called outside and inside. */
export const invoiceWords = (data: InvoicePaper) => {
  const title = `${data.title} ${data.number}`.trim();
  return { title: `${title}, ${data.workshopName}`, foot: title, ghost: data.draftMark };
};

/**
 * Sets an invoice or a credit note.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderInvoice(data: InvoicePaper): Promise<Uint8Array> {
  const paper = new Paper(data, invoiceWords(data));
  setInvoice(paper, data);
  return paper.finish();
}

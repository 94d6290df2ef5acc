/** Letters with a table: a reminder, a statement of account, a list of what is owed. */
import { drawSender, drawTotals, measureTotals } from './invoice.ts';
import { labelled, paragraph, titleBlock } from './page.ts';
import { Paper, styles } from './paper.ts';
import { drawTable, fitColumns, type Row } from './table.ts';
import type { LetterPaper } from './types.ts';
import { drawPayment } from './payment.ts';

const blockWidth = 226;
const textWidth = 420;

function drawHead(paper: Paper, data: LetterPaper): void {
  const width = paper.width - blockWidth - 24;
  const block = { x: paper.left + paper.width - blockWidth, y: paper.top, width: blockWidth };
  drawSender(paper, data.sender, width);
  const senderEnd = paper.y;
  const blockEnd = block.y + titleBlock(paper, block, data.title, data.mark, data.facts);
  paper.y = Math.max(senderEnd, blockEnd) + 22;
  if (data.recipient === null) return;
  const top = Math.max(senderEnd + 18, paper.top + 92);
  const used = labelled(paper, { x: paper.left, y: top, width }, data.to, [
    { text: data.recipient.name, style: styles.strong },
    ...data.recipient.lines.map((text) => ({ text, style: styles.body })),
  ]);
  paper.y = Math.max(top + used, blockEnd) + 22;
}

const rowsOf = (data: LetterPaper): readonly Row[] =>
  data.rows.map(({ cells, detail }) => ({
    cells: cells.map((text, at) =>
      at === 0 ? { text, style: styles.body, detail } : { text, style: styles.figure },
    ),
  }));

function drawParagraphs(paper: Paper, texts: readonly string[]): void {
  for (const text of texts) {
    paragraph(paper, text, styles.body, { x: paper.left, width: Math.min(paper.width, textWidth) });
    paper.y += 6;
  }
}

/**
 * Sets a letter with its table.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderLetter(data: LetterPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.mark}`.trim();
  const paper = new Paper(data, { title: `${foot}, ${data.workshopName}`, foot, ghost: null });
  drawHead(paper, data);
  drawParagraphs(paper, data.before);
  const rows = rowsOf(data);
  const totals = measureTotals(paper, data.totals);
  if (rows.length > 0) {
    const columns = fitColumns(paper, paper.width, data.heads, rows);
    drawTable(paper, { x: paper.left, columns, rows, keepAfter: totals.height });
  }
  drawTotals(paper, totals);
  paper.y += 18;
  drawParagraphs(paper, data.after);
  if (data.payment != null) {
    paper.y += 8;
    drawPayment(paper, data.payment);
  }
  return paper.finish();
}

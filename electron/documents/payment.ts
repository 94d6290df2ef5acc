/** How to pay: account, reference and amount, with the code that a banking app reads beside them. */
import { drawCode } from './code.ts';
import { labelled, paragraph } from './page.ts';
import { ink, styles, type Paper } from './paper.ts';
import type { InvoicePaper } from './types.ts';

type Payment = NonNullable<InvoicePaper['payment']>;

/** Side of the code with its quiet zone, in points: 35 mm, so that the largest version keeps modules above 0.4 mm. */
const codeSide = 99;
const pad = 8;
const columnWidth = 172;
const rowHeight = styles.label.lead + styles.figure.lead + 6;
/** EPC069-12: the code is at most of version 13. */
const maxVersion = 13;

/** Places facts in two columns; one too long for its column takes the whole row. */
function placed(paper: Paper, facts: Payment['facts'], width: number) {
  const half = Math.min(columnWidth, width / 2);
  let row = 0;
  let column = 0;
  const places = facts.map((fact) => {
    const wide = paper.textWidth(fact.text, styles.figure) > half - pad;
    if (wide && column === 1) [row, column] = [row + 1, 0];
    const place = { fact, row, x: column * half, width: wide ? width : half - pad };
    if (wide || column === 1) [row, column] = [row + 1, 0];
    else column = 1;
    return place;
  });
  return { places, rows: row + column };
}

/** Draws the block in a thin frame, in one piece. Leaves `y` below it. */
export function drawPayment(paper: Paper, payment: Payment): void {
  const side = payment.code === null ? 0 : codeSide;
  const width = paper.width - 2 * pad - side;
  const { places, rows } = placed(paper, payment.facts, width);
  const text = styles.heading.lead + 6 + rows * rowHeight + (side > 0 ? styles.quiet.lead : 0);
  const height = Math.max(text + 2 * pad, side + 4);
  paper.need(height);
  const top = paper.y;
  const x = paper.left + pad;
  paper.y += pad;
  paragraph(paper, payment.heading, styles.heading, { x, width }, 'H2');
  const from = paper.y + 4;
  for (const { fact, row, x: dx, width: room } of places) {
    const style = /\d/.test(fact.text) ? styles.figure : styles.body;
    labelled(paper, { x: x + dx, y: from + row * rowHeight, width: room }, fact.label, [
      { text: fact.text, style },
    ]);
  }
  if (payment.code !== null) {
    const { code } = payment;
    paper.y = top + height - pad - styles.quiet.lead;
    paragraph(paper, code.caption, styles.quiet, { x, width });
    const place = {
      x: paper.left + paper.width - side - 2,
      y: top + (height - side) / 2,
      side,
    };
    paper.figure(code.caption, () => drawCode(paper.pdf, code.text, place, { maxVersion }));
  }
  paper.furniture(() =>
    paper.pdf.lineWidth(0.4).strokeColor(ink.line).rect(paper.left, top, paper.width, height).stroke(),
  );
  paper.y = top + height + 14;
}

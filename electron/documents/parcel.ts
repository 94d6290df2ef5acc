/** The packing slip that lies in a parcel, and the list of its contents a customs form is filled in from. */
import { drawSender } from './invoice.ts';
import { labelled, paragraph, titleBlock } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import { columnGap, type Column, drawTable, fitColumns, type Row } from './table.ts';
import type { ContentListPaper, PackingSlipPaper } from './types.ts';

const blockWidth = 226;
const noteWidth = 400;
/** Labels keep this much room under them for a pen. */
const penRoom = 40;

interface Head {
  readonly workshopName: string;
  readonly title: string;
  readonly mark: string;
  readonly facts: PackingSlipPaper['facts'];
}

/** Title block on the right; what is set on the left by `left` stands beside it. Leaves `y` below both. */
function drawHead(paper: Paper, head: Head, left: (width: number) => void): void {
  const block = { x: paper.left + paper.width - blockWidth, y: paper.top, width: blockWidth };
  const blockEnd = block.y + titleBlock(paper, block, head.title, head.mark, head.facts);
  left(paper.width - blockWidth - 24);
  paper.y = Math.max(paper.y, blockEnd) + 22;
}

interface Party {
  readonly label: string;
  readonly lines: readonly string[];
}

/** An address with its label, the first line strong. */
function drawParty(paper: Paper, { label, lines }: Party, width: number): void {
  const set = lines.map((text, at) => ({ text, style: at === 0 ? styles.strong : styles.body }));
  paper.y += labelled(paper, { x: paper.left, y: paper.y, width }, label, set);
}

function slipRows(data: PackingSlipPaper, valued: boolean): readonly Row[] {
  const rows = data.lines.map((line): Row => ({
    cells: [
      { text: line.what, style: styles.body, detail: line.detail },
      { text: line.quantity, style: styles.figure },
      ...(valued ? [{ text: line.value, style: styles.figure }] : []),
    ],
  }));
  if (data.total === null || !valued) return rows;
  const { label, value } = data.total;
  const sum: Row = {
    cells: [
      { text: label, style: styles.strong },
      { text: '', style: styles.figure },
      { text: value, style: styles.figureStrong },
    ],
    sum: true,
  };
  return [...rows, sum];
}

/**
 * Sets the packing slip of a parcel.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderPackingSlip(data: PackingSlipPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.mark}`.trim();
  const paper = new Paper(data, { title: `${foot}, ${data.workshopName}`, foot, ghost: null });
  drawHead(paper, data, (width) => {
    drawSender(paper, { name: data.workshopName, lines: data.sender, contact: [] }, width);
    paper.y = Math.max(paper.y + 18, paper.top + 92);
    drawParty(paper, data.recipient, width);
  });
  const valued = data.heads.value !== '';
  const rows = slipRows(data, valued);
  const heads = [data.heads.what, data.heads.quantity, ...(valued ? [data.heads.value] : [])];
  drawTable(paper, { x: paper.left, columns: fitColumns(paper, paper.width, heads, rows), rows });
  paper.y += 18;
  for (const note of data.notes) {
    const place = { x: paper.left, width: Math.min(paper.width, noteWidth) };
    paper.need(styles.heading.lead + 2 * styles.body.lead);
    paragraph(paper, note.heading, styles.strong, place, 'H2');
    paragraph(paper, note.text, styles.body, place);
    paper.y += 6;
  }
  return paper.finish();
}

/** The description takes what the other columns leave; tariff number and origin are words, not sums. */
function listColumns(paper: Paper, data: ContentListPaper, rows: readonly Row[]): readonly Column[] {
  return fitColumns(paper, paper.width, data.heads, rows).map((column, at) => ({
    ...column,
    right: at >= 1 && at <= 3,
  }));
}

function listRows(data: ContentListPaper): readonly Row[] {
  const cells = (texts: readonly string[], strong: boolean): Row['cells'] =>
    texts.map((text) => ({ text, style: strong ? styles.figureStrong : styles.figure }));
  const rows = data.lines.map((line): Row => ({
    cells: [{ text: line.what, style: styles.body }, ...cells(line.cells, false)],
  }));
  const [label = '', ...sums] = data.total;
  return [...rows, { cells: [{ text: label, style: styles.strong }, ...cells(sums, true)], sum: true }];
}

/** A line to sign on, with what goes there said under it. */
function drawSignature(paper: Paper, { label, name, signature }: ContentListPaper['declared']): void {
  paper.need(penRoom + 2 * styles.body.lead + styles.label.lead);
  const half = (paper.width - columnGap) / 2;
  const top = paper.y;
  paper.y += labelled(paper, { x: paper.left, y: top, width: half }, label, [
    { text: name, style: styles.strong },
  ]);
  const x = paper.left + half + columnGap;
  const y = top + penRoom;
  paper.furniture(() => paper.rule(x, y, x + half, y, 0.5, ink.full));
  labelled(paper, { x, y: y + 2, width: half }, signature, []);
  paper.y = Math.max(paper.y, y + 2 + styles.label.lead) + 16;
}

/**
 * Sets the list of what is in a parcel, as a customs form asks for it.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderContentList(data: ContentListPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.mark}`.trim();
  const paper = new Paper(data, { title: `${foot}, ${data.workshopName}`, foot, ghost: null });
  drawHead(paper, data, (width) => {
    drawParty(paper, data.sender, width);
    paper.y += 16;
    drawParty(paper, data.recipient, width);
  });
  const rows = listRows(data);
  drawTable(paper, { x: paper.left, columns: listColumns(paper, data, rows), rows });
  paper.y += 22;
  drawSignature(paper, data.declared);
  paragraph(paper, data.caution, styles.quiet, { x: paper.left, width: Math.min(paper.width, noteWidth) });
  return paper.finish();
}

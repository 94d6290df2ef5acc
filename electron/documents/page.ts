/** Parts every paper shares: who made it, the title block, paragraphs and headings. */
import { ink, styles, type Paper, type Style } from './paper.ts';

export interface Fact {
  readonly label: string;
  readonly text: string;
}

/** Sets a paragraph under a tag, line by line; a page break leaves at least two lines on either side. */
export function paragraph(
  paper: Paper,
  text: string,
  of: Style,
  place: { readonly x: number; readonly width: number } = { x: paper.left, width: paper.width },
  tag = 'P',
): void {
  if (text.trim() === '') return;
  const lines = paper.wrap(text, of, place.width);
  let at = 0;
  while (at < lines.length) {
    const left = lines.length - at;
    let fits = Math.floor((paper.room + 0.01) / of.lead);
    if (fits < Math.min(2, left) && paper.y > paper.top) {
      paper.newPage();
      continue;
    }
    if (left > fits && left - fits === 1 && fits > 2) fits -= 1;
    const now = lines.slice(at, at + Math.max(1, fits));
    paper.leaf(tag, () => {
      for (const line of now) {
        paper.set(line, place.x, paper.y + of.lead - 3, of);
        paper.y += of.lead;
      }
    });
    at += now.length;
  }
}

/** A heading that never stands at the foot of a page without so much of what it heads. */
export function heading(paper: Paper, text: string, keepWith: number, level: 'H1' | 'H2' = 'H2'): void {
  paper.need(styles.heading.lead + 6 + keepWith);
  paragraph(paper, text, styles.heading, undefined, level);
  paper.y += 2;
}

/** A label said quietly, with lines under it. Answers the height used. */
export function labelled(
  paper: Paper,
  place: { readonly x: number; readonly y: number; readonly width: number },
  label: string,
  lines: readonly { readonly text: string; readonly style: Style }[],
): number {
  const before = paper.y;
  paper.y = place.y;
  paragraph(paper, label, styles.label, place);
  paper.y += 1;
  for (const line of lines) paragraph(paper, line.text, line.style, place);
  const used = paper.y - place.y;
  paper.y = before;
  return used;
}

interface BlockCell {
  readonly fact: Fact;
  readonly lines: readonly string[];
}

const cellPad = 5;

/** Figures stand in the figure face; words would look typed in it. */
const factStyle = (text: string): Style => (/\d/.test(text) ? styles.figure : styles.body);

const blockRows = (
  paper: Paper,
  facts: readonly Fact[],
  width: number,
): readonly (readonly BlockCell[])[] => {
  const half = width / 2;
  const fits = (fact: Fact): boolean =>
    paper.textWidth(fact.text, factStyle(fact.text)) <= half - 2 * cellPad;
  const rows: BlockCell[][] = [];
  // A short fact that waits alone in its row takes in the next short one, even past a long one.
  let waiting: BlockCell[] | undefined;
  for (const fact of facts) {
    const short = fits(fact);
    const style = factStyle(fact.text);
    const cell = { fact, lines: paper.wrap(fact.text, style, (short ? half : width) - 2 * cellPad) };
    if (short && waiting !== undefined) {
      waiting.push(cell);
      waiting = undefined;
      continue;
    }
    const row = [cell];
    rows.push(row);
    if (short) waiting = row;
  }
  return rows;
};

/**
 * The title block in the corner, ruled like a drawing's: what paper this is, its number, and its facts in cells.
 * Answers the height used.
 */
export function titleBlock(
  paper: Paper,
  place: { readonly x: number; readonly y: number; readonly width: number },
  title: string,
  mark: string,
  facts: readonly Fact[],
): number {
  const { x, width } = place;
  const before = paper.y;
  paper.y = place.y + cellPad;
  const inside = { x: x + cellPad, width: width - 2 * cellPad };
  paragraph(paper, title, { ...styles.title, colour: paper.accent }, inside, 'H1');
  paragraph(paper, mark, styles.figureLarge, inside);
  paper.y += cellPad;
  const lines: (readonly [number, number, number, number])[] = [];
  for (const row of blockRows(paper, facts, width)) {
    const top = paper.y;
    lines.push([x, top, x + width, top]);
    const height =
      Math.max(...row.map((cell) => cell.lines.length)) * styles.figure.lead +
      styles.label.lead +
      2 * cellPad -
      2;
    row.forEach((cell, at) => {
      const from = x + (at * width) / 2;
      if (at > 0) lines.push([from, top, from, top + height]);
      labelled(
        paper,
        { x: from + cellPad, y: top + cellPad - 1, width: width / row.length - 2 * cellPad },
        cell.fact.label,
        [{ text: cell.fact.text, style: factStyle(cell.fact.text) }],
      );
    });
    paper.y = top + height;
  }
  const used = paper.y - place.y;
  paper.furniture(() => {
    for (const [x1, y1, x2, y2] of lines) paper.rule(x1, y1, x2, y2, 0.4, ink.line);
    paper.pdf.lineWidth(0.9).strokeColor(ink.full).rect(x, place.y, width, used).stroke();
    if (paper.accent !== ink.full) paper.rule(x, place.y, x + width, place.y, 3, paper.accent);
  });
  paper.y = before;
  return used;
}

const blockWidth = 226;

/** What the head of a sheet for the workshop says. */
interface SheetHead {
  readonly workshopName: string;
  /** What paper this is, its number (may be empty) and its facts: the title block. */
  readonly title: string;
  readonly mark: string;
  readonly facts: readonly Fact[];
  /** What the sheet is about, and a sentence under it. */
  readonly name: string;
  readonly sentence?: string;
}

/** The head of a sheet for the workshop: whose and what on the left, the title block on the right. Leaves `y` below. */
export function sheetHead(paper: Paper, head: SheetHead): void {
  const left = { x: paper.left, width: paper.width - blockWidth - 24 };
  const block = { x: paper.left + paper.width - blockWidth, y: paper.top, width: blockWidth };
  const blockEnd = block.y + titleBlock(paper, block, head.title, head.mark, head.facts);
  paragraph(paper, head.workshopName, styles.quiet, left);
  paper.y += 4;
  paragraph(paper, head.name, styles.name, left);
  if (head.sentence !== undefined) {
    paper.y += 6;
    paragraph(paper, head.sentence, styles.body, left);
  }
  paper.y = Math.max(paper.y, blockEnd) + 20;
}

/** The preview of a release: every knife with its picture, what it is and what it costs, none torn over two pages. */
import { paragraph, sheetHead } from './page.ts';
import { ink, Paper, type Style, styles } from './paper.ts';
import type { PreviewPaper } from './types.ts';

const photoWidth = 188;
/** Upright pictures are never higher than this. */
const photoHeight = 190;
const gutter = 18;
const labelWidth = 84;
const gap = 16;

type Knife = PreviewPaper['knives'][number];

interface Opened {
  readonly width: number;
  readonly height: number;
}

/** The published types lag behind: the library opens a picture before it is set. */
interface Opener {
  openImage(bytes: Buffer): Opened;
}

/** The picture opened, or nothing where its bytes are broken: a preview without it is better than none. */
function opened(paper: Paper, photo: Uint8Array | null): Opened | undefined {
  if (photo === null) return undefined;
  try {
    return (paper.pdf as unknown as Opener).openImage(Buffer.from(photo));
  } catch {
    return undefined;
  }
}

const factStyle = (text: string): Style => (/\d/.test(text) ? styles.figure : styles.body);

const linesOf = (paper: Paper, text: string, style: Style, width: number): number =>
  text === '' ? 0 : paper.wrap(text, style, width).length * style.lead;

/** Height of what stands beside the picture. */
function textHeight(paper: Paper, knife: Knife, width: number): number {
  const rows = knife.figures.reduce(
    (so, { text }) => so + linesOf(paper, text, factStyle(text), width - labelWidth) + 1,
    0,
  );
  const remarks = knife.remarks.reduce(
    (so, { heading, text }) => so + linesOf(paper, `${heading}: ${text}`, styles.quiet, width) + 3,
    0,
  );
  const words = linesOf(paper, knife.words, styles.body, width);
  const title = linesOf(paper, knife.title, styles.heading, width - 96);
  return title + 4 + (words === 0 ? 0 : words + 4) + rows + remarks + styles.quiet.lead + 6;
}

interface Picture {
  readonly image: Opened | undefined;
  readonly width: number;
  readonly height: number;
}

/** The picture as wide as its column and no higher than it may be; a frame of the common 3 : 2 where there is none. */
function pictureOf(paper: Paper, photo: Uint8Array | null): Picture {
  const image = opened(paper, photo);
  if (image === undefined) return { image, width: photoWidth, height: (photoWidth * 2) / 3 };
  const scale = Math.min(photoWidth / image.width, photoHeight / image.height);
  return { image, width: image.width * scale, height: image.height * scale };
}

function drawPhoto(paper: Paper, knife: Knife, { image, width, height }: Picture, top: number): void {
  const { left } = paper;
  if (image === undefined) {
    const x = left + (width - paper.textWidth(knife.photoWords, styles.quiet)) / 2;
    paper.leaf('P', () => paper.set(knife.photoWords, x, top + height / 2 + 3, styles.quiet));
  } else {
    paper.figure(knife.photoWords, () => {
      paper.pdf.image(image as unknown as Buffer, left, top, { width, height });
    });
  }
  paper.furniture(() =>
    paper.pdf.lineWidth(0.5).strokeColor(ink.line).rect(left, top, width, height).stroke(),
  );
}

function drawFigures(
  paper: Paper,
  knife: Knife,
  place: { readonly x: number; readonly width: number },
): void {
  paper.group('Table', () => {
    for (const { label, text } of knife.figures) {
      const style = factStyle(text);
      const lines = paper.wrap(text, style, place.width - labelWidth);
      paper.group('TR', () => {
        paper.leaf('TH', () => paper.set(label, place.x, paper.y + style.lead - 3, styles.quiet), 'Row');
        paper.leaf('TD', () => {
          for (const line of lines) {
            paper.set(line, place.x + labelWidth, paper.y + style.lead - 3, style);
            paper.y += style.lead;
          }
        });
      });
      paper.y += 1;
    }
  });
}

function drawText(paper: Paper, knife: Knife, place: { readonly x: number; readonly width: number }): void {
  const right = place.x + place.width;
  const top = paper.y;
  paper.leaf('P', () =>
    paper.set(knife.price, right, top + styles.heading.lead - 3, styles.figureStrong, true),
  );
  paragraph(paper, knife.title, styles.heading, { x: place.x, width: place.width - 96 }, 'H2');
  const under = [knife.serial, knife.state].filter((part) => part !== '').join(' · ');
  paper.leaf('P', () => {
    paper.set(under, place.x, paper.y + styles.quiet.lead - 3, styles.quiet);
    paper.set(knife.shipping, right, paper.y + styles.quiet.lead - 3, styles.quiet, true);
    paper.y += styles.quiet.lead;
  });
  paper.y += 4;
  if (knife.words !== '') {
    paragraph(paper, knife.words, styles.body, place);
    paper.y += 4;
  }
  drawFigures(paper, knife, place);
  for (const { heading, text } of knife.remarks) {
    paper.y += 3;
    paragraph(paper, `${heading}: ${text}`, styles.quiet, place);
  }
}

function drawKnife(paper: Paper, knife: Knife): void {
  const place = { x: paper.left + photoWidth + gutter, width: paper.width - photoWidth - gutter };
  const picture = pictureOf(paper, knife.photo);
  const height = Math.max(picture.height, textHeight(paper, knife, place.width));
  paper.need(height + 2);
  const top = paper.y;
  paper.group('Sect', () => {
    drawPhoto(paper, knife, picture, top);
    drawText(paper, knife, place);
  });
  paper.y = Math.max(paper.y, top + picture.height) + gap;
}

/**
 * Sets the preview of a release.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderPreview(data: PreviewPaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.mark}`;
  const paper = new Paper(data, { title: `${data.name}, ${data.workshopName}`, foot, ghost: null });
  const { workshopName, title, mark, name, facts, intro } = data;
  sheetHead(paper, { workshopName, title, mark, facts, name, sentence: intro.join('\n\n') });
  for (const knife of data.knives) drawKnife(paper, knife);
  for (const note of data.notes) {
    paper.need(styles.strong.lead + 2 * styles.quiet.lead);
    paragraph(paper, note.heading, styles.strong, undefined, 'H2');
    paragraph(paper, note.text, styles.quiet);
    paper.y += 7;
  }
  return paper.finish();
}

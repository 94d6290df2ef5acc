/** The certificate of a knife: its picture, its data, and the maker's word for it. One page unless the texts are long. */
import { labelled, paragraph, titleBlock } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import type { CertificatePaper } from './types.ts';

const blockWidth = 200;
const gutter = 24;
/** A picture is never higher than this, so that the data stays beside it on the page. */
const photoHeight = 250;
const labelWidth = 84;
const penRoom = 30;

type Place = Readonly<{ x: number; width: number }>;

interface Opened {
  readonly width: number;
  readonly height: number;
}

/** The published types lag behind: the library opens a picture before it is set. */
interface Opener {
  openImage(bytes: Buffer): Opened;
}

/** The picture opened, or nothing where its bytes are broken: a certificate without it is better than none. */
function openPhoto(paper: Paper, photo: CertificatePaper['photo']): Opened | undefined {
  if (photo === null) return undefined;
  try {
    return (paper.pdf as unknown as Opener).openImage(Buffer.from(photo.bytes));
  } catch {
    return undefined;
  }
}

/** Sets the picture as wide as the page allows, framed by a thin line. */
function drawPhoto(paper: Paper, data: CertificatePaper): void {
  const image = openPhoto(paper, data.photo);
  if (image === undefined) return;
  const scale = Math.min(paper.width / image.width, photoHeight / image.height);
  const [width, height] = [image.width * scale, image.height * scale];
  const x = paper.left + (paper.width - width) / 2;
  paper.need(height);
  paper.figure(data.photo?.alt ?? '', () => {
    paper.pdf.image(image as unknown as Buffer, x, paper.y, { width, height });
  });
  paper.furniture(() =>
    paper.pdf.lineWidth(0.5).strokeColor(ink.line).rect(x, paper.y, width, height).stroke(),
  );
  paper.y += height + 18;
}

type Group = CertificatePaper['groups'][number];

/** One group of rows: label on the left, what is true of this knife on the right. */
function drawGroup(paper: Paper, group: Group, place: Place): void {
  paragraph(paper, group.heading, styles.heading, place, 'H2');
  paper.furniture(() => paper.rule(place.x, paper.y + 1, place.x + place.width, paper.y + 1, 0.5, ink.full));
  paper.y += 5;
  for (const row of group.rows) {
    const top = paper.y;
    paragraph(paper, row.label, styles.quiet, { x: place.x, width: labelWidth });
    const labelEnd = paper.y;
    paper.y = top;
    paragraph(paper, row.text, styles.body, {
      x: place.x + labelWidth + 6,
      width: place.width - labelWidth - 6,
    });
    paper.y = Math.max(paper.y, labelEnd) + 3;
  }
  paper.y += 10;
}

/** Groups in two columns: the first, which is the longest, on the left. */
function drawGroups(paper: Paper, groups: readonly Group[]): void {
  const [first, ...others] = groups;
  if (first === undefined) return;
  const width = (paper.width - gutter) / 2;
  const top = paper.y;
  drawGroup(paper, first, { x: paper.left, width });
  const leftEnd = paper.y;
  paper.y = top;
  for (const group of others) drawGroup(paper, group, { x: paper.left + width + gutter, width });
  paper.y = Math.max(paper.y, leftEnd) + 2;
}

function drawTexts(paper: Paper, data: CertificatePaper): void {
  const papers = { heading: data.papers.heading, text: data.papers.lines.join('\n') };
  for (const { heading, text } of [papers, ...data.texts]) {
    if (text === '') continue;
    paper.need(styles.heading.lead + 2 * styles.quiet.lead);
    paragraph(paper, heading, styles.strong, undefined, 'H2');
    paragraph(paper, text, styles.quiet);
    paper.y += 7;
  }
}

/** Where the maker signs. */
function drawSignature(paper: Paper, { label, name }: CertificatePaper['signed']): void {
  const width = (paper.width - gutter) / 2;
  const x = paper.left + width + gutter;
  const height = penRoom + styles.body.lead + styles.label.lead + 4;
  paper.need(height);
  paper.y = Math.max(paper.y, paper.bottom - height);
  const y = paper.y + penRoom;
  paper.furniture(() => paper.rule(x, y, x + width, y, 0.5, ink.full));
  paper.y = y + 2 + labelled(paper, { x, y: y + 2, width }, label, [{ text: name, style: styles.body }]);
}

/**
 * Sets the certificate of a knife.
 * @returns the PDF file, the same bytes for the same data
 */
export async function renderCertificate(data: CertificatePaper): Promise<Uint8Array> {
  const foot = `${data.title} ${data.serial}`;
  const paper = new Paper(data, { title: `${foot}, ${data.name}`, foot, ghost: null });
  const block = { x: paper.left + paper.width - blockWidth, y: paper.top, width: blockWidth };
  const blockEnd = block.y + titleBlock(paper, block, data.title, data.serial, data.facts);
  const left = { x: paper.left, width: paper.width - blockWidth - gutter };
  paragraph(paper, data.workshopName, styles.body, left);
  paper.y += 8;
  paragraph(paper, data.name, styles.title, left);
  paper.y = Math.max(paper.y, blockEnd) + 18;
  drawPhoto(paper, data);
  drawGroups(paper, data.groups);
  drawTexts(paper, data);
  drawSignature(paper, data.signed);
  return paper.finish();
}

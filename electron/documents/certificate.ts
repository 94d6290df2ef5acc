/** The certificate of a knife: its picture, its data, and the maker's word for it. One page unless the texts are long. */
import { labelled, paragraph, titleBlock } from './page.ts';
import { ink, Paper, styles } from './paper.ts';
import type { CertificatePaper } from './types.ts';

const blockWidth = 200;
const gutter = 24;
/** A picture is as high as the page leaves it room for, between these two. */
const photoHeight = { most: 280, least: 130 } as const;
const photoGap = 18;
const logoBox = { width: 150, height: 40 } as const;
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

/** Sets the picture as large as the page allows, framed by a thin line, and leaves `below` for what follows. */
function drawPhoto(paper: Paper, data: CertificatePaper, below: number): void {
  const image = openPhoto(paper, data.photo);
  if (image === undefined) return;
  const room = Math.min(photoHeight.most, Math.max(photoHeight.least, paper.room - below - photoGap));
  const scale = Math.min(paper.width / image.width, room / image.height);
  const [width, height] = [image.width * scale, image.height * scale];
  const x = paper.left + (paper.width - width) / 2;
  paper.need(height);
  paper.figure(data.photo?.alt ?? '', () => {
    paper.pdf.image(image as unknown as Buffer, x, paper.y, { width, height });
  });
  paper.furniture(() =>
    paper.pdf.lineWidth(0.5).strokeColor(ink.line).rect(x, paper.y, width, height).stroke(),
  );
  paper.y += height + photoGap;
}

type Group = CertificatePaper['groups'][number];

const groupHead = styles.heading.lead + 5;
const groupGap = 10;
const rowGap = 3;
const rowIndent = labelWidth + 6;

const rowHeight = (paper: Paper, row: Group['rows'][number], width: number): number =>
  Math.max(
    paper.wrap(row.label, styles.quiet, labelWidth).length * styles.quiet.lead,
    paper.wrap(row.text, styles.body, width - rowIndent).length * styles.body.lead,
  ) + rowGap;

const groupHeight = (paper: Paper, group: Group, width: number): number =>
  groupHead + group.rows.reduce((sum, row) => sum + rowHeight(paper, row, width), 0) + groupGap;

/** One group of rows: label on the left, what is true of this knife on the right. */
function drawGroup(paper: Paper, group: Group, place: Place): void {
  paragraph(paper, group.heading, styles.heading, place, 'H2');
  paper.furniture(() => paper.rule(place.x, paper.y + 1, place.x + place.width, paper.y + 1, 0.5, ink.full));
  paper.y += 5;
  for (const row of group.rows) {
    const top = paper.y;
    paragraph(paper, row.label, styles.quiet, { x: place.x, width: labelWidth });
    paper.y = top;
    paragraph(paper, row.text, styles.body, { x: place.x + rowIndent, width: place.width - rowIndent });
    paper.y = top + rowHeight(paper, row, place.width);
  }
  paper.y += groupGap;
}

const columnWidth = (paper: Paper): number => (paper.width - gutter) / 2;

const groupsHeight = (paper: Paper, [first, ...others]: readonly Group[]): number => {
  const height = (group: Group): number => groupHeight(paper, group, columnWidth(paper));
  return first === undefined
    ? 0
    : Math.max(
        height(first),
        others.reduce((sum, group) => sum + height(group), 0),
      );
};

/** Groups in two columns: the first, which is the longest, on the left. */
function drawGroups(paper: Paper, groups: readonly Group[]): void {
  const [first, ...others] = groups;
  if (first === undefined) return;
  paper.need(groupsHeight(paper, groups));
  const width = columnWidth(paper);
  const top = paper.y;
  drawGroup(paper, first, { x: paper.left, width });
  paper.y = top;
  for (const group of others) drawGroup(paper, group, { x: paper.left + width + gutter, width });
  paper.y = top + groupsHeight(paper, groups);
}

const textGap = 7;

const textsOf = ({ papers, texts }: CertificatePaper): CertificatePaper['texts'] =>
  [{ heading: papers.heading, text: papers.lines.join('\n') }, ...texts].filter(({ text }) => text !== '');

const textsHeight = (paper: Paper, data: CertificatePaper): number =>
  textsOf(data).reduce(
    (sum, { text }) =>
      sum +
      styles.strong.lead +
      paper.wrap(text, styles.body, paper.width).length * styles.body.lead +
      textGap,
    0,
  );

function drawTexts(paper: Paper, data: CertificatePaper): void {
  for (const { heading, text } of textsOf(data)) {
    paper.need(styles.strong.lead + 2 * styles.body.lead);
    paragraph(paper, heading, styles.strong, undefined, 'H2');
    paragraph(paper, text, styles.body);
    paper.y += textGap;
  }
}

const signatureHeight = penRoom + styles.body.lead + styles.label.lead + 4;

/** Where the maker signs, at the foot of the page. */
function drawSignature(paper: Paper, { label, name }: CertificatePaper['signed']): void {
  const width = columnWidth(paper);
  const x = paper.left + width + gutter;
  paper.need(signatureHeight);
  const y = Math.max(paper.y, paper.bottom - signatureHeight) + penRoom;
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
  const logo = paper.logo(left.x, paper.y, Math.min(logoBox.width, left.width), logoBox.height);
  paper.y += logo === 0 ? 0 : logo + 6;
  paragraph(paper, data.workshopName, styles.body, left);
  paper.y += 8;
  paragraph(paper, data.name, styles.title, left);
  paper.y = Math.max(paper.y, blockEnd) + 18;
  const below = groupsHeight(paper, data.groups) + textsHeight(paper, data) + signatureHeight;
  drawPhoto(paper, data, below);
  drawGroups(paper, data.groups);
  drawTexts(paper, data);
  drawSignature(paper, data.signed);
  return paper.finish();
}

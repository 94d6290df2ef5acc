/** Labels for the rack: a square code of the tag and what lies there. One page of a roll holds one, a sheet many. */
import PdfDocument from 'pdfkit';
import { drawCode } from './code.ts';
import { Faces, type Face } from './fonts.ts';
import { ink } from './paper.ts';
import { writeText } from './strokes.ts';
import type { LabelSheetKey, LabelsPaper } from './types.ts';

type Pdf = InstanceType<typeof PdfDocument>;
type Label = LabelsPaper['labels'][number];

const MM = 72 / 25.4;
const INCH = 72;
/** From line to line, in sizes of the type. */
const LEADING = 1.28;

/** Where the labels of a sheet lie, in points. */
interface Sheet {
  readonly page: readonly [number, number];
  readonly columns: number;
  readonly rows: number;
  readonly left: number;
  readonly top: number;
  readonly label: readonly [number, number];
  readonly pitch: readonly [number, number];
}

/** Sizes sold everywhere under these measures; common practice, no source. */
const sheets: Readonly<Record<LabelSheetKey, Sheet>> = {
  roll62x29: {
    page: [62 * MM, 29 * MM],
    columns: 1,
    rows: 1,
    left: 0,
    top: 0,
    label: [62 * MM, 29 * MM],
    pitch: [62 * MM, 29 * MM],
  },
  a4of24: {
    page: [210 * MM, 297 * MM],
    columns: 3,
    rows: 8,
    left: 0,
    top: 0.5 * MM,
    label: [70 * MM, 37 * MM],
    pitch: [70 * MM, 37 * MM],
  },
  letterOf30: {
    page: [8.5 * INCH, 11 * INCH],
    columns: 3,
    rows: 10,
    left: 0.1875 * INCH,
    top: 0.5 * INCH,
    label: [2.625 * INCH, INCH],
    pitch: [2.75 * INCH, INCH],
  },
};

interface Set {
  readonly pdf: Pdf;
  readonly faces: Faces;
  readonly root: ReturnType<Pdf['struct']>;
}

interface Line {
  readonly text: string;
  readonly face: Face;
  readonly size: number;
  readonly quiet?: boolean;
}

/** A text that fits, shortened at its end if it must. */
function fitted(faces: Faces, { text, face, size }: Line, width: number): string {
  if (faces.width(face, text, size) <= width) return text;
  const letters = Array.from(text);
  while (letters.length > 0 && faces.width(face, `${letters.join('').trimEnd()}…`, size) > width)
    letters.pop();
  return `${letters.join('').trimEnd()}…`;
}

/** A text on two lines, parted between words, where one is too narrow for it: a name often ends in its size. */
function parted(faces: Faces, line: Line, width: number): readonly Line[] {
  const words = line.text.split(' ');
  const fits = (count: number): boolean =>
    faces.width(line.face, words.slice(0, count).join(' '), line.size) <= width;
  let count = words.length;
  while (count > 0 && !fits(count)) count -= 1;
  if (count === 0 || count === words.length) return [line];
  return [words.slice(0, count), words.slice(count)].map((part) => ({ ...line, text: part.join(' ') }));
}

const heightOf = (lines: readonly Line[]): number => lines.reduce((so, line) => so + line.size * LEADING, 0);

/** The lines of a label, its name on two of them where they all find room. */
function linesIn(faces: Faces, label: Label, width: number, height: number): readonly Line[] {
  const [tag, name, ...rest] = linesOf(label, height > 32 * MM);
  if (tag === undefined || name === undefined) return [];
  const whole = [tag, ...parted(faces, name, width), ...rest];
  return heightOf(whole) <= height - 2 * MM ? whole : [tag, name, ...rest];
}

function setLine(set: Set, line: Line, x: number, y: number): void {
  let at = x;
  for (const run of set.faces.runs(line.face, line.text)) {
    set.faces.use(run.face);
    const colour = line.quiet === true ? ink.quiet : ink.full;
    writeText(set.pdf, run.text, at, y, { size: line.size, colour, whole: run.rightToLeft });
    at += set.faces.runWidth(run, line.size);
  }
}

function tagged(set: Set, type: string, options: object, draw: () => void): void {
  const element = set.pdf.struct(type, options);
  set.root.add(element);
  const content = set.pdf.markStructureContent(type);
  element.add(content);
  draw();
  set.pdf.endMarkedContent();
  element.end();
}

const linesOf = (label: Label, tall: boolean): readonly Line[] => [
  { text: label.tag, face: 'figureStrong', size: tall ? 15 : 13 },
  { text: label.name, face: 'strong', size: tall ? 8.5 : 7.5 },
  ...label.facts.map((text): Line => ({ text, face: 'text', size: tall ? 7.5 : 6.75 })),
  ...(label.foot === '' ? [] : [{ text: label.foot, face: 'text' as const, size: 6.25, quiet: true }]),
];

function drawLabel(
  set: Set,
  label: Label,
  x: number,
  y: number,
  [width, height]: readonly [number, number],
): void {
  const pad = 2 * MM;
  const side = Math.min(height - pad, 26 * MM);
  const top = y + (height - side) / 2;
  tagged(set, 'Figure', { alt: `Code of ${label.tag}` }, () =>
    drawCode(set.pdf, label.code, { x: x + pad / 2, y: top, side }),
  );
  const from = x + pad / 2 + side;
  const room = x + width - pad - from;
  const lines = linesIn(set.faces, label, room, height);
  let at = y + (height - heightOf(lines)) / 2;
  for (const line of lines) {
    const text = fitted(set.faces, line, room);
    tagged(set, 'P', {}, () => setLine(set, { ...line, text }, from, at + line.size));
    at += line.size * LEADING;
  }
}

function openSheet(data: LabelsPaper, sheet: Sheet): Pdf {
  const madeAt = new Date(data.madeAt);
  const info = { Title: data.title, Author: data.workshopName, CreationDate: madeAt, ModDate: madeAt };
  return new PdfDocument({
    size: [sheet.page[0], sheet.page[1]],
    margin: 0,
    autoFirstPage: false,
    font: '',
    pdfVersion: '1.7',
    tagged: true,
    lang: data.language,
    displayTitle: true,
    info: { ...info, Producer: 'Knifewright', Creator: 'Knifewright' },
  });
}

const collect = (pdf: Pdf): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    pdf.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    pdf.on('error', reject);
  });

/** Sets labels on their sheet, leaving out the places already used on the first page. */
export async function renderLabels(data: LabelsPaper): Promise<Uint8Array> {
  const sheet = sheets[data.sheet];
  const perPage = sheet.columns * sheet.rows;
  const pdf = openSheet(data, sheet);
  const done = collect(pdf);
  const root = pdf.struct('Document');
  pdf.addStructure(root);
  const set: Set = { pdf, faces: new Faces(pdf), root };
  for (const [at, label] of data.labels.entries()) {
    const place = data.skip + at;
    if (at === 0 || place % perPage === 0) pdf.addPage();
    const onPage = place % perPage;
    const x = sheet.left + (onPage % sheet.columns) * sheet.pitch[0];
    const y = sheet.top + Math.floor(onPage / sheet.columns) * sheet.pitch[1];
    drawLabel(set, label, x, y, sheet.label);
  }
  root.end();
  pdf.end();
  return done;
}

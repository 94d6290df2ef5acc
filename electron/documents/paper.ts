/** One sheet after another: page furniture, the tree of tags, and setting of text. Everything is measured in points. */
import PdfDocument from 'pdfkit';
import { Faces, type Face, type Run } from './fonts.ts';
import { writeLine, writeText } from './strokes.ts';
import type { PaperFrame } from './types.ts';

/** Ink of a shop drawing: warm black, a browner tone for what is said quietly, a thin line, and a ghost for drafts. */
export const ink = {
  full: '#231f1a',
  quiet: '#6b6156',
  line: '#a3988a',
  hair: '#d6cec2',
  ghost: '#efe9df',
} as const;

export interface Style {
  readonly face: Face;
  readonly size: number;
  /** Distance from one baseline to the next. */
  readonly lead: number;
  readonly colour: string;
}

const style = (face: Face, size: number, lead: number, colour: string = ink.full): Style => ({
  face,
  size,
  lead,
  colour,
});

/** The one set of sizes all papers share. */
export const styles = {
  name: style('strong', 16, 19),
  title: style('strong', 20, 24),
  heading: style('strong', 10.5, 14),
  body: style('text', 9.5, 12.5),
  strong: style('strong', 9.5, 12.5),
  quiet: style('text', 8.25, 10.75, ink.quiet),
  label: style('text', 7, 9, ink.quiet),
  figure: style('figure', 9, 12.5),
  figureStrong: style('figureStrong', 9, 12.5),
  figureLarge: style('figureStrong', 13, 17),
  small: style('text', 7.25, 9.25),
  smallStrong: style('strong', 7.25, 9.25),
  smallQuiet: style('text', 7.25, 9.25, ink.quiet),
  smallFigure: style('figure', 7, 9.25),
} as const;

type Pdf = InstanceType<typeof PdfDocument>;
type Tag = ReturnType<Pdf['struct']>;

const edge = 30;
const inner = 54;
const strip = 20;
const sizes = { A4: [595.28, 841.89], Letter: [612, 792] } as const;

export interface PaperWords {
  readonly title: string;
  /** Said in the strip at the foot of every page, e.g. "Invoice 2024-0013". */
  readonly foot: string;
  /** Set large and pale across every page; null for none. */
  readonly ghost: string | null;
}

/** A paper kept for the long term (PDF/A-3), with a file inside. */
export interface Archive {
  /** Descriptions added to the file's metadata, RDF. */
  readonly xmp: string;
  readonly file: {
    readonly name: string;
    readonly mime: string;
    readonly bytes: Buffer;
    /** What the file is to the page (ISO 32000-2, 7.11.3). */
    readonly relationship: 'Alternative' | 'Data' | 'Source';
    readonly description: string;
  };
}

/** A paper being set, page by page, from the top down. */
export class Paper {
  readonly pdf: Pdf;
  readonly faces: Faces;
  readonly left = inner;
  readonly width: number;
  readonly top = inner;
  /** Lowest point that text may reach. */
  readonly bottom: number;
  /** Where the next thing goes. */
  y = inner;
  readonly #frame: PaperFrame;
  readonly #words: PaperWords;
  readonly #size: readonly [number, number];
  readonly #tags: Tag[] = [];
  readonly #done: Promise<Uint8Array>;

  constructor(frame: PaperFrame, words: PaperWords, archive?: Archive) {
    this.#frame = frame;
    this.#words = words;
    this.#size = sizes[frame.size];
    const madeAt = new Date(frame.madeAt);
    const info = { Title: words.title, Author: frame.workshopName, CreationDate: madeAt, ModDate: madeAt };
    this.pdf = new PdfDocument({
      size: [this.#size[0], this.#size[1]],
      margin: 0,
      autoFirstPage: false,
      // None at first: the library would load a standard typeface that no paper uses.
      font: '',
      bufferPages: true,
      pdfVersion: '1.7',
      tagged: true,
      lang: frame.language,
      displayTitle: true,
      ...(archive === undefined ? {} : { subset: 'PDF/A-3a' as const }),
      info: { ...info, Producer: 'Knifewright', Creator: 'Knifewright' },
    });
    if (archive !== undefined) this.#enclose(archive, madeAt);
    this.#done = collect(this.pdf);
    this.faces = new Faces(this.pdf);
    this.width = this.#size[0] - 2 * inner;
    this.bottom = this.#size[1] - edge - strip - 16;
    const root = this.pdf.struct('Document');
    this.pdf.addStructure(root);
    this.#tags.push(root);
    this.newPage();
  }

  #enclose({ xmp, file }: Archive, madeAt: Date): void {
    // The published types lag behind: metadata can be added to, and a file's relationship is read.
    const pdf = this.pdf as unknown as { appendXML(xml: string): void };
    pdf.appendXML(xmp);
    const options = {
      name: file.name,
      type: file.mime,
      description: file.description,
      relationship: file.relationship,
      creationDate: madeAt,
      modifiedDate: madeAt,
    };
    this.pdf.file(file.bytes, options);
  }

  /** Starts the next page. */
  newPage(): void {
    this.pdf.addPage();
    this.y = this.top;
    if (this.#words.ghost !== null) this.#drawGhost(this.#words.ghost);
  }

  /** Points left on this page. */
  get room(): number {
    return this.bottom - this.y;
  }

  /** Moves to the next page unless so much fits on this one. True when it moved. */
  need(height: number): boolean {
    if (height <= this.room + 0.01 || this.y <= this.top) return false;
    this.newPage();
    return true;
  }

  /** Marks what belongs to the page and not to what it says; readers aloud leave it out. */
  furniture(draw: () => void, type: 'Pagination' | 'Layout' = 'Layout'): void {
    this.pdf.markContent('Artifact', { type });
    draw();
    this.pdf.endMarkedContent();
  }

  /** Puts everything set inside `fill` under one tag, e.g. a table or a row. */
  group(tag: string, fill: () => void): void {
    const element = this.pdf.struct(tag);
    this.#tags.at(-1)?.add(element);
    this.#tags.push(element);
    fill();
    this.#tags.pop();
    element.end();
  }

  /** Puts one piece of text under a tag of its own. */
  leaf(tag: string, draw: () => void, scope?: 'Column' | 'Row'): void {
    // The published types lag behind: `scope` is read for header cells.
    const options: object = scope === undefined ? {} : { scope };
    const element = this.pdf.struct(tag, options);
    this.#tags.at(-1)?.add(element);
    const content = this.pdf.markStructureContent(tag);
    element.add(content);
    draw();
    this.pdf.endMarkedContent();
    element.end();
  }

  /** A picture under a tag of its own; `alt` says for readers aloud what is on it. */
  figure(alt: string, draw: () => void): void {
    const element = this.pdf.struct('Figure', { alt });
    this.#tags.at(-1)?.add(element);
    const content = this.pdf.markStructureContent('Figure');
    element.add(content);
    draw();
    this.pdf.endMarkedContent();
    element.end();
  }

  textWidth(text: string, of: Style): number {
    return this.faces.width(of.face, text, of.size);
  }

  /** Breaks a text into lines no wider than `width`; a word longer than that is broken too. */
  wrap(text: string, of: Style, width: number): readonly string[] {
    return text.split('\n').flatMap((paragraph) => this.#wrapLine(paragraph, of, width));
  }

  #wrapLine(text: string, of: Style, width: number): readonly string[] {
    if (text === '' || this.textWidth(text, of) <= width) return [text];
    const lines: string[] = [];
    let line = '';
    for (const word of text.split(' ')) {
      const longer = line === '' ? word : `${line} ${word}`;
      if (this.textWidth(longer, of) <= width) {
        line = longer;
        continue;
      }
      if (line !== '') lines.push(line);
      const parts = this.#breakWord(word, of, width);
      lines.push(...parts.slice(0, -1));
      line = parts.at(-1) ?? '';
    }
    if (line !== '') lines.push(line);
    return lines;
  }

  #breakWord(word: string, of: Style, width: number): readonly string[] {
    if (this.textWidth(word, of) <= width) return [word];
    const parts: string[] = [];
    let part = '';
    for (const character of word) {
      if (part !== '' && this.textWidth(part + character, of) > width) {
        parts.push(part);
        part = '';
      }
      part += character;
    }
    return [...parts, part];
  }

  /** Sets one line with its baseline at `y`. `right` hangs it from its right end at `x`. */
  set(text: string, x: number, y: number, of: Style, right = false): void {
    if (text === '') return;
    const runs = this.faces.runs(of.face, text);
    let at = right ? x - this.textWidth(text, of) : x;
    for (const run of runs) {
      this.#setRun(run, at, y, of);
      at += this.faces.runWidth(run, of.size);
    }
  }

  #setRun(run: Run, x: number, y: number, of: Style): void {
    const { pdf } = this;
    const actual = run.standsFor ?? (run.rightToLeft ? run.text : null);
    this.faces.use(run.face);
    if (actual !== null) pdf.markContent('Span', { actual });
    writeText(pdf, run.text, x, y, { size: of.size, colour: of.colour, whole: run.rightToLeft });
    if (actual !== null) pdf.endMarkedContent();
  }

  /** A thin line. */
  rule(x1: number, y1: number, x2: number, y2: number, weight = 0.5, colour: string = ink.line): void {
    writeLine(this.pdf, [x1, y1, x2, y2], weight, colour);
  }

  #drawGhost(words: string): void {
    const [width, height] = this.#size;
    const size = Math.min(190, (150 * width) / Math.max(1, this.faces.width('strong', words, 150)));
    const ghost = style('strong', size, size, ink.ghost);
    this.furniture(() => {
      this.pdf.save().rotate(-38, { origin: [width / 2, height / 2] });
      this.set(words, width / 2 - this.textWidth(words, ghost) / 2, height / 2 + size * 0.35, ghost);
      this.pdf.restore();
    }, 'Pagination');
  }

  /** The border of a drawing with its centring marks, and the strip at the foot. */
  #drawFrame(page: number, pages: number): void {
    const [width, height] = this.#size;
    const foot = height - edge - strip;
    this.pdf
      .lineWidth(0.7)
      .strokeColor(ink.full)
      .rect(edge, edge, width - 2 * edge, height - 2 * edge)
      .stroke();
    this.rule(edge, foot, width - edge, foot, 0.5, ink.full);
    for (const [x1, y1, x2, y2] of [
      [width / 2, edge - 7, width / 2, edge + 5],
      [width / 2, height - edge, width / 2, height - edge + 7],
      [edge - 7, height / 2, edge + 5, height / 2],
      [width - edge - 5, height / 2, width - edge + 7, height / 2],
    ] as const) {
      this.rule(x1, y1, x2, y2, 0.7, ink.full);
    }
    const baseline = foot + strip / 2 + 2.6;
    const middle = this.#words.foot;
    this.set(this.#frame.workshopName, inner, baseline, styles.label);
    this.set(middle, width / 2 - this.textWidth(middle, styles.label) / 2, baseline, styles.label);
    const folio = (this.#frame.folio ?? 'page {page} of {pages}')
      .replace('{page}', String(page))
      .replace('{pages}', String(pages));
    this.set(folio, width - inner, baseline, styles.label, true);
  }

  /** Colour of the title and its bar. */
  get accent(): string {
    return this.#frame.look?.accent ?? ink.full;
  }

  /**
   * Draws the maker's logo into a box, kept in proportion, from its top left corner.
   * @returns the height it took; 0 without one
   */
  logo(x: number, y: number, width: number, height: number): number {
    const bytes = this.#frame.look?.logo ?? null;
    if (bytes === null) return 0;
    // The published types lag behind: a picture can be opened once and drawn where its size is known.
    const picture = (
      this.pdf as unknown as { openImage(bytes: Buffer): { readonly width: number; readonly height: number } }
    ).openImage(Buffer.from(bytes));
    const scale = Math.min(width / picture.width, height / picture.height);
    const [wide, high] = [picture.width * scale, picture.height * scale];
    this.furniture(() => this.pdf.image(picture as unknown as string, x, y, { width: wide, height: high }));
    return high;
  }

  /** Draws the frames, now that the number of pages is known, and hands over the finished file. */
  async finish(): Promise<Uint8Array> {
    const { start, count } = this.pdf.bufferedPageRange();
    for (let page = start; page < start + count; page += 1) {
      this.pdf.switchToPage(page);
      this.furniture(() => this.#drawFrame(page - start + 1, count), 'Pagination');
    }
    this.#tags[0]?.end();
    this.pdf.end();
    return this.#done;
  }
}

const collect = (pdf: Pdf): Promise<Uint8Array> =>
  new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    pdf.on('data', (chunk: Uint8Array) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
    pdf.on('error', reject);
  });

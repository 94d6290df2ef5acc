/** The typefaces of every paper, found beside the program, and the choice of face for each run of characters. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type PdfDocument from 'pdfkit';
import { openedFace, type OpenedFace } from './strokes.ts';

/** `text` for words, `figure` for numbers that must stand under each other; `spare` has the letters those two lack. */
export type Face = 'text' | 'strong' | 'figure' | 'figureStrong' | 'spare';

const files: Readonly<Record<Face, string>> = {
  text: '@expo-google-fonts/atkinson-hyperlegible-next/400Regular/AtkinsonHyperlegibleNext_400Regular.ttf',
  strong:
    '@expo-google-fonts/atkinson-hyperlegible-next/600SemiBold/AtkinsonHyperlegibleNext_600SemiBold.ttf',
  figure: '@expo-google-fonts/atkinson-hyperlegible-mono/400Regular/AtkinsonHyperlegibleMono_400Regular.ttf',
  figureStrong:
    '@expo-google-fonts/atkinson-hyperlegible-mono/600SemiBold/AtkinsonHyperlegibleMono_600SemiBold.ttf',
  spare: 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf',
};

/** Faces once opened, kept for the next paper: reading their tables takes longer than setting a page. */
const opened = new Map<Face, OpenedFace['font']>();

/** Reads a face. Works from the sources and from the bundled program: both stand beside the packages. */
const bytesOf = (face: Face): Buffer => readFileSync(createRequire(import.meta.url).resolve(files[face]));

/** Opens a face, or takes the one opened for an earlier paper, and makes it current. */
const openFace = (pdf: InstanceType<typeof PdfDocument>, face: Face): void => {
  const known = opened.get(face);
  // The published types lag behind: an opened face is accepted in place of its bytes.
  pdf.registerFont(face, (known ?? bytesOf(face)) as Buffer);
  pdf.font(face);
  if (known === undefined) opened.set(face, openedFace(pdf).font);
};

/** A stretch of text set in one face. */
export interface Run {
  readonly face: Face;
  readonly text: string;
  /** Written from right to left: laid out as a whole, not word by word. */
  readonly rightToLeft: boolean;
  /** What the run stands for, where no face has a glyph and a box is drawn instead. */
  readonly standsFor: string | null;
}

const plain = /^[\u0020-\u007e\u00a0-\u00ff\u2013\u2014\u2018\u2019\u201c\u201d\u2026]*$/;
const rightToLeft = /[\p{Script=Hebrew}\p{Script=Arabic}\p{Script=Syriac}\p{Script=Thaana}\p{Script=Nko}]/u;
/** Control characters, joiners and variation selectors: never drawn by themselves. */
const invisible = /\p{Cc}|\p{Cf}|\p{Variation_Selector}/u;
const spaceLike = /[\s\p{P}]/u;
const box = '\u25a1';

/** One opened set of faces for one paper, with everything measured kept. */
export class Faces {
  readonly #pdf: InstanceType<typeof PdfDocument>;
  readonly #has = new Map<string, boolean>();
  readonly #runs = new Map<string, readonly Run[]>();
  readonly #widths = new Map<string, number>();
  readonly #used = new Set<Face>();
  #current: Face | null = null;

  constructor(pdf: InstanceType<typeof PdfDocument>) {
    this.#pdf = pdf;
  }

  /** Makes a face current. Each is opened when a paper first needs it. */
  use(face: Face): void {
    if (face === this.#current) return;
    if (this.#used.has(face)) this.#pdf.font(face);
    else openFace(this.#pdf, face);
    this.#used.add(face);
    this.#current = face;
  }

  #covers(face: Face, codePoint: number): boolean {
    const key = `${face}${codePoint}`;
    const known = this.#has.get(key);
    if (known !== undefined) return known;
    this.use(face);
    const has = openedFace(this.#pdf).font.hasGlyphForCodePoint(codePoint);
    this.#has.set(key, has);
    return has;
  }

  #piece(face: Face, character: string): Run {
    const codePoint = character.codePointAt(0) ?? 0;
    const right = rightToLeft.test(character);
    if (!right && this.#covers(face, codePoint)) {
      return { face, text: character, rightToLeft: false, standsFor: null };
    }
    if (this.#covers('spare', codePoint)) {
      return { face: 'spare', text: character, rightToLeft: right, standsFor: null };
    }
    return { face: 'spare', text: box, rightToLeft: false, standsFor: character };
  }

  /** One word in one face: a single letter from another face in its middle would jar. */
  #word(face: Face, word: string): Run[] {
    const characters = Array.from(word).filter((character) => !invisible.test(character));
    const whole = characters.every((character) => this.#covers(face, character.codePointAt(0) ?? 0));
    return characters.map((character) =>
      this.#piece(whole || spaceLike.test(character) ? face : 'spare', character),
    );
  }

  /** Splits a text into runs, each in a face that has its letters. */
  runs(face: Face, text: string): readonly Run[] {
    if (plain.test(text)) return [{ face, text, rightToLeft: false, standsFor: null }];
    const key = `${face}\u0000${text}`;
    const known = this.#runs.get(key);
    if (known !== undefined) return known;
    const pieces = text
      .normalize('NFC')
      .split(/(?<= )/)
      .flatMap((word) => this.#word(face, word));
    const joined = joinRuns(pieces);
    this.#runs.set(key, joined);
    return joined;
  }

  /** Width of one run in points. */
  runWidth(run: Run, size: number): number {
    const key = `${run.face}\u0000${run.text}`;
    let width = this.#widths.get(key);
    if (width === undefined) {
      this.use(run.face);
      this.#pdf.fontSize(1000);
      width = this.#pdf.widthOfString(run.text, run.rightToLeft ? { features: [] } : {});
      this.#widths.set(key, width);
    }
    return (width * size) / 1000;
  }

  /** Width of a text in points. */
  width(face: Face, text: string, size: number): number {
    let width = 0;
    for (const run of this.runs(face, text)) width += this.runWidth(run, size);
    return width;
  }
}

const sameKind = (a: Run, b: Run): boolean =>
  a.face === b.face && a.rightToLeft === b.rightToLeft && (a.standsFor === null) === (b.standsFor === null);

/** Joins neighbours of one kind; a space between two words written from right to left belongs to both. */
function joinRuns(pieces: readonly Run[]): readonly Run[] {
  const runs: Run[] = [];
  for (const [at, piece] of pieces.entries()) {
    const before = runs.at(-1);
    const next = pieces.slice(at + 1).find((later) => !spaceLike.test(later.text));
    const between = before?.rightToLeft === true && spaceLike.test(piece.text) && next?.rightToLeft === true;
    const asIs: Run = between ? { ...before, text: piece.text } : piece;
    if (before === undefined || !sameKind(before, asIs)) {
      runs.push(asIs);
      continue;
    }
    runs[runs.length - 1] = {
      ...before,
      text: before.text + asIs.text,
      standsFor: before.standsFor === null ? null : before.standsFor + (asIs.standsFor ?? ''),
    };
  }
  return runs;
}

/**
 * Writes text and lines straight into a page's content, one operator group per line of text.
 * The library's own call wraps every string in a saved state of ten operators, which a list of thousands of cells pays for.
 * Operators: ISO 32000-1, 8.4.4 (line width), 8.5 (paths), 8.6.8 (rg, RG), 9.4 (text objects).
 */
import type PdfDocument from 'pdfkit';

type Pdf = InstanceType<typeof PdfDocument>;

/** What an opened face offers beyond the published types. */
export interface OpenedFace {
  readonly id: string;
  readonly font: { hasGlyphForCodePoint(codePoint: number): boolean };
  ref(): unknown;
  encode(
    text: string,
    features?: readonly string[],
  ): readonly [readonly string[], readonly { readonly xAdvance: number; readonly advanceWidth: number }[]];
}

/** The face made current by `pdf.font(...)`. */
export const openedFace = (pdf: Pdf): OpenedFace => (pdf as unknown as { readonly _font: OpenedFace })._font;

/** A number as the content of a page writes it: hundredths of a point are finer than any printer. */
const n = (value: number): string => String(Math.round(value * 1000) / 1000);

const colours = new Map<string, string>();

/** `#rrggbb` as three numbers from 0 to 1. */
const colourOf = (hex: string): string => {
  const known = colours.get(hex);
  if (known !== undefined) return known;
  const parts = [1, 3, 5].map((at) => n(Number.parseInt(hex.slice(at, at + 2), 16) / 255));
  colours.set(hex, parts.join(' '));
  return parts.join(' ');
};

export interface Inked {
  readonly size: number;
  readonly colour: string;
  /** Lay the run out as a whole, for scripts written from right to left. */
  readonly whole: boolean;
}

/** What has been encoded once stays valid for the paper: a face only ever gains glyphs. */
const encoded = new WeakMap<OpenedFace, Map<string, string>>();

/** Glyphs with the kerning between them, as the operand of TJ. */
const encode = (face: OpenedFace, text: string, whole: boolean): string => {
  const [glyphs, positions] = face.encode(text, whole ? [] : undefined);
  let parts = '<';
  for (const [at, glyph] of glyphs.entries()) {
    parts += glyph;
    const place = positions[at];
    const kern = place === undefined ? 0 : place.advanceWidth - place.xAdvance;
    if (kern !== 0) parts += `> ${n(kern)} <`;
  }
  return `[${parts}>]`;
};

const shown = (face: OpenedFace, text: string, whole: boolean): string => {
  let known = encoded.get(face);
  if (known === undefined) encoded.set(face, (known = new Map<string, string>()));
  let operand = known.get(text);
  if (operand === undefined) known.set(text, (operand = encode(face, text, whole)));
  return operand;
};

/** Sets one run in the current face, its baseline at `y` measured from the top of the page. */
export function writeText(pdf: Pdf, text: string, x: number, y: number, of: Inked): void {
  const face = openedFace(pdf);
  const fonts = (pdf.page as unknown as { readonly fonts: Record<string, unknown> }).fonts;
  fonts[face.id] ??= face.ref();
  // A page's content is measured from the top down; the text matrix turns the letters upright again.
  pdf.addContent(
    `BT ${colourOf(of.colour)} rg /${face.id} ${n(of.size)} Tf 1 0 0 -1 ${n(x)} ${n(y)} Tm ${shown(face, text, of.whole)} TJ ET`,
  );
}

/** Draws a straight line. */
export function writeLine(
  pdf: Pdf,
  [x1, y1, x2, y2]: readonly [number, number, number, number],
  weight: number,
  colour: string,
): void {
  pdf.addContent(`${n(weight)} w ${colourOf(colour)} RG ${n(x1)} ${n(y1)} m ${n(x2)} ${n(y2)} l S`);
}

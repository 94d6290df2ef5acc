/** A paper set with nothing but the library: the floor for papers. */
import { createRequire } from 'node:module';
import PdfDocument from 'pdfkit';
import type { Word } from '../documents/read-back.ts';

/** Of a page in Letter, points. */
const height = 792;

const faces = {
  text: '@expo-google-fonts/atkinson-hyperlegible-next/400Regular/AtkinsonHyperlegibleNext_400Regular.ttf',
  figure: '@expo-google-fonts/atkinson-hyperlegible-mono/400Regular/AtkinsonHyperlegibleMono_400Regular.ttf',
};
const places = Object.entries(faces).map(
  ([name, file]) => [name, createRequire(import.meta.url).resolve(file)] as const,
);

const isFigure = (word: Word): boolean => /^[\d., %-]+$/.test(word.text);

/** The same words where they stand, set with nothing but the library's own `text`. */
export const barePaper = (words: readonly (readonly Word[])[]): Promise<Uint8Array> => {
  const pdf = new PdfDocument({ size: [612, height], margin: 0, autoFirstPage: false });
  const done = new Promise<Uint8Array>((resolve) => {
    const chunks: Buffer[] = [];
    pdf.on('data', (chunk: Buffer) => chunks.push(chunk));
    pdf.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))));
  });
  for (const [name, file] of places) pdf.registerFont(name, file);
  for (const page of words) {
    pdf.addPage();
    for (const word of page) {
      pdf.font(isFigure(word) ? 'figure' : 'text').fontSize(9);
      pdf.text(word.text, word.x, height - word.y - 9, { lineBreak: false });
    }
  }
  pdf.end();
  return done;
};

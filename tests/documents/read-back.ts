/** Reads a paper back as a stranger would: text by place, tags, fonts. */
import { getDocument, type PDFPageProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';

export interface Word {
  readonly text: string;
  readonly x: number;
  readonly y: number;
  /** Right end. */
  readonly end: number;
}

export interface ReadPaper {
  readonly pages: readonly (readonly Word[])[];
  readonly title: unknown;
  readonly language: unknown;
  readonly marked: boolean;
  /** Every tag, in reading order, outside in. */
  readonly tags: readonly string[];
}

interface Node {
  readonly role?: string;
  readonly children?: readonly unknown[];
}

const tagsOf = (node: Node): string[] => [
  ...(node.role === undefined || node.role === 'Root' ? [] : [node.role]),
  ...(node.children ?? []).flatMap((child) => tagsOf(child as Node)),
];

const wordsOf = async (page: PDFPageProxy): Promise<readonly Word[]> => {
  const { items } = await page.getTextContent();
  const words: Word[] = [];
  for (const item of items) {
    if (!('str' in item) || item.str.trim() === '') continue;
    const [, , , , x = 0, y = 0] = item.transform as readonly number[];
    words.push({ text: item.str, x, y, end: x + item.width });
  }
  return words;
};

/** Opens a paper with an independent reader and takes down what is in it. */
export const readBack = async (bytes: Uint8Array): Promise<ReadPaper> => {
  const task = getDocument({ data: bytes.slice(), verbosity: 0, useSystemFonts: false });
  const pdf = await task.promise;
  const pages: (readonly Word[])[] = [];
  const tags: string[] = [];
  for (let at = 1; at <= pdf.numPages; at += 1) {
    const page = await pdf.getPage(at);
    pages.push(await wordsOf(page));
    const tree = (await page.getStructTree()) as Node | null;
    if (tree !== null) tags.push(...tagsOf(tree));
  }
  const { info } = await pdf.getMetadata();
  const marks: unknown = await pdf.getMarkInfo();
  const read = info as { readonly Title?: unknown; readonly Language?: unknown };
  await task.destroy();
  return {
    pages,
    title: read.Title,
    language: read.Language,
    marked: marks instanceof Map && marks.get('Marked') === true,
    tags,
  };
};

/** All words of all pages in the order they were written. */
export const textOf = (paper: ReadPaper): string =>
  paper.pages.map((page) => page.map((word) => word.text).join(' ')).join(' ');

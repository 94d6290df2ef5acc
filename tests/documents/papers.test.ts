/** Papers are read back with an independent reader (pdfjs-dist) and held against what they were set from. */
import { inflateSync } from 'node:zlib';
import jsQr from 'jsqr';
import { describe, expect, test } from 'vitest';
import { renderCostSheet } from '../../electron/documents/cost-sheet.ts';
import { renderInvoice } from '../../electron/documents/invoice.ts';
import type { InvoicePaper } from '../../electron/documents/types.ts';
import { costSheetPaper, invoicePaper, richInvoice } from './papers.ts';
import { hasRaster, rasterOf } from './raster.ts';
import { readBack, textOf, type ReadPaper } from './read-back.ts';

/** The content of every compressed stream of a file, as text. */
const streamsOf = (bytes: Uint8Array): string =>
  [...raw(bytes).matchAll(/stream\r?\n([\s\S]*?)\r?\nendstream/g)]
    .map(([, body = '']) => {
      try {
        return inflateSync(Buffer.from(body, 'latin1')).toString('latin1');
      } catch {
        return '';
      }
    })
    .join('\n');

const raw = (bytes: Uint8Array): string => Buffer.from(bytes).toString('latin1');

const [firstLine] = invoicePaper.lines;
if (firstLine === undefined) throw new Error('The sample invoice has a line');

const manyLines = (count: number): InvoicePaper => ({
  ...invoicePaper,
  lines: Array.from({ length: count }, (_, at) => ({
    ...firstLine,
    description: `Knife number ${at + 1}`,
    amount: `${at + 1000}.25`,
  })),
});

const everyString = (value: unknown): string[] => {
  if (typeof value === 'string') return value === '' ? [] : [value];
  if (typeof value !== 'object' || value === null) return [];
  return Object.values(value).flatMap(everyString);
};

const squeezed = (text: string): string => text.replaceAll(/\s+/g, '');

const expectAllIn = (paper: ReadPaper, data: object, unprinted: readonly string[]): void => {
  const all = squeezed(textOf(paper));
  const lost = everyString(data).filter((text) => !unprinted.includes(text) && !all.includes(squeezed(text)));
  expect(lost).toEqual([]);
};

describe('Papers', () => {
  test('an invoice holds everything it was set from, the lines above the sums', async () => {
    const paper = await readBack(await renderInvoice(invoicePaper));
    expectAllIn(paper, invoicePaper, ['Letter', 'en', invoicePaper.madeAt]);
    const [page = []] = paper.pages;
    const order = [
      '2024-0003',
      'Maribel Oxenmoor',
      'Tessel paring, full tang',
      'Shipping',
      'Net',
      'Total USD',
    ];
    const heights = order.map((text) => page.find((word) => word.text === text)?.y ?? Number.NaN);
    expect(heights).toEqual(heights.toSorted((a, b) => b - a));
    expect(paper.pages).toHaveLength(1);
  });

  test('amounts of an invoice end on one line down the page', async () => {
    const [page = []] = (await readBack(await renderInvoice(invoicePaper))).pages;
    const ends = ['150.00', '12.00', '162.00', '10.53', '172.53', '-172.53', '0.00'].map((amount) =>
      Math.max(...page.filter((word) => word.text === amount).map((word) => word.end)).toFixed(1),
    );
    expect(new Set(ends)).toEqual(new Set(['558.0']));
  });

  test('a cost sheet holds every figure and the working behind it', async () => {
    const paper = await readBack(await renderCostSheet(costSheetPaper));
    expectAllIn(paper, costSheetPaper, ['Letter', 'en', costSheetPaper.madeAt]);
  });

  test('papers are tagged, titled and in a language', async () => {
    const invoice = await readBack(await renderInvoice(invoicePaper));
    expect(invoice.marked).toBe(true);
    expect(invoice.title).toBe('Invoice 2024-0003, Sedgewarren Edge Shop');
    expect(invoice.language).toBe('en');
    const counts = Object.fromEntries(
      ['Document', 'H1', 'Table', 'TR', 'TH', 'TD'].map((tag) => [
        tag,
        invoice.tags.filter((t) => t === tag).length,
      ]),
    );
    expect(counts).toEqual({ Document: 1, H1: 1, Table: 2, TR: 8, TH: 10, TD: 15 });
    const sheet = await readBack(await renderCostSheet(costSheetPaper));
    expect(sheet.tags.filter((tag) => tag === 'H2').length).toBe(5);
  });

  test('a file says that its title is to be shown, and marks the frame as furniture', async () => {
    const text = raw(await renderInvoice(invoicePaper));
    expect(text).toContain('/DisplayDocTitle true');
    expect(text).toContain('/Marked true');
    expect(text).toContain('/Scope /Column');
  });

  test('every typeface used is embedded, and only in part', async () => {
    const text = raw(await renderInvoice(invoicePaper));
    const fonts = [...text.matchAll(/\/BaseFont \/([A-Za-z0-9+-]+)/g)].map(([, name]) => name ?? '');
    const named = new Set(fonts);
    expect([...named].every((name) => /^[A-Z]{6}\+AtkinsonHyperlegible(Next|Mono)-/.test(name))).toBe(true);
    expect(named.size).toBeGreaterThanOrEqual(4);
    expect(text.match(/\/FontFile2 \d+ 0 R/g)?.length).toBe(named.size);
    expect(text.length).toBeLessThan(60_000);
  });

  test('the same data give the same bytes, at another time of another instant', async () => {
    const once = await renderInvoice(invoicePaper);
    await new Promise((resolve) => setTimeout(resolve, 1100));
    const again = await renderInvoice(structuredClone(invoicePaper));
    expect(Buffer.compare(once, again)).toBe(0);
    const sheet = await renderCostSheet(costSheetPaper);
    expect(Buffer.compare(sheet, await renderCostSheet(structuredClone(costSheetPaper)))).toBe(0);
    const other = await renderInvoice({ ...invoicePaper, madeAt: '2024-08-26T00:00:00.000Z' });
    expect(Buffer.compare(once, other)).not.toBe(0);
  });

  test('A4 and Letter have their own sizes', async () => {
    const a4 = raw(await renderInvoice({ ...invoicePaper, size: 'A4' }));
    expect(a4).toContain('/MediaBox [0 0 595.28 841.89]');
    expect(raw(await renderInvoice(invoicePaper))).toContain('/MediaBox [0 0 612 792]');
  });

  test('a draft says so on every page and an issued paper does not', async () => {
    const draft = await readBack(await renderInvoice({ ...manyLines(60), draftMark: 'Draft' }));
    expect(draft.pages.length).toBeGreaterThan(2);
    expect(draft.pages.map((page) => page.filter((word) => word.text === 'Draft').length)).toEqual(
      draft.pages.map(() => 1),
    );
    expect(textOf(await readBack(await renderInvoice(invoicePaper)))).not.toContain('Draft');
  });
});

describe('A final invoice in German', () => {
  test('names the deposit, holds every word, and stands on one page of A4', async () => {
    const paper = await readBack(await renderInvoice(richInvoice));
    const code = richInvoice.payment?.code?.text ?? '';
    expectAllIn(paper, richInvoice, ['A4', 'de', richInvoice.madeAt, richInvoice.folio ?? '', code]);
    expect(paper.pages).toHaveLength(1);
    expect(textOf(paper)).toContain('Seite 1 von 1');
    expect(paper.tags).toContain('Figure');
  });

  test('keeps how to pay in one piece, whatever the number of lines', async () => {
    const torn: number[] = [];
    for (let count = 10; count <= 26; count += 4) {
      const lines = manyLines(count).lines;
      const { pages } = await readBack(await renderInvoice({ ...richInvoice, lines }));
      const page = pages.find((words) => words.some((word) => word.text === 'So können Sie zahlen')) ?? [];
      const texts = page.map((word) => word.text);
      if (!texts.includes('24.12.2024') || !texts.some((text) => text.startsWith('Mit der Banking-App')))
        torn.push(count);
    }
    expect(torn).toEqual([]);
  });

  test.runIf(hasRaster)('carries a code that another library reads from the printed page', async () => {
    const page = rasterOf(await renderInvoice(richInvoice), 150);
    expect(jsQr(page.data, page.width, page.height)?.data).toBe(richInvoice.payment?.code?.text);
  });

  test('draws title and bar in the maker’s colour and nothing else', async () => {
    const marked = (data: InvoicePaper): Promise<Uint8Array> => renderInvoice(data);
    const accent = '#1f4e79';
    const plain = await readBack(await marked(richInvoice));
    const look = { accent, logo: null };
    expect(textOf(await readBack(await marked({ ...richInvoice, look })))).toBe(textOf(plain));
    const colour = '0.122 0.306 0.475';
    const content = streamsOf(await marked({ ...richInvoice, look }));
    expect(content.match(new RegExp(`${colour} rg`, 'g'))).toHaveLength(1);
    expect(content.match(new RegExp(`${colour} RG`, 'g'))).toHaveLength(1);
  });
});

describe('Page breaks', () => {
  test('two hundred lines keep every line once and in order, with headings and page numbers on each page', async () => {
    const paper = await readBack(await renderInvoice(manyLines(200)));
    const knives = paper.pages.flat().filter((word) => word.text.startsWith('Knife number'));
    expect(knives.map((word) => word.text)).toEqual(
      Array.from({ length: 200 }, (_, at) => `Knife number ${at + 1}`),
    );
    const count = paper.pages.length;
    paper.pages.forEach((page, at) => {
      const texts = page.map((word) => word.text);
      expect(texts).toContain(`page ${at + 1} of ${count}`);
      expect(texts.filter((text) => text === 'Quantity')).toHaveLength(1);
    });
  });

  test('sums never stand on a page without a line above them, whatever the number of lines', async () => {
    const broken: string[] = [];
    for (let count = 8; count <= 44; count += 1) {
      const { pages } = await readBack(await renderInvoice(manyLines(count)));
      const last = pages.findLast((page) => page.some((word) => word.text === 'Net')) ?? [];
      const texts = last.map((word) => word.text);
      const whole = ['Total USD', 'Left to pay', 'Net'].every((label) => texts.includes(label));
      if (!whole || !texts.some((text) => text === `Knife number ${count}`)) broken.push(`${count} lines`);
    }
    expect(broken).toEqual([]);
  });

  test('text never reaches into the strip at the foot', async () => {
    for (const count of [16, 17, 18, 36]) {
      const { pages } = await readBack(await renderInvoice(manyLines(count)));
      const low = pages
        .flat()
        .filter((word) => word.y < 30 + 20 && !/^(page |Sedge|Invoice)/.test(word.text));
      expect(low).toEqual([]);
    }
  });

  test('the name of a part of the working stands beside its first line', async () => {
    const working = Array.from({ length: 30 }, (_, part) => ({
      heading: `Part ${part + 1}`,
      rows: Array.from({ length: 1 + (part % 4) }, (_row, at) => ({
        on: '2024-08-10',
        label: `Entry ${part + 1}.${at + 1}`,
        how: 'counted',
        exact: '1.000000',
      })),
    }));
    const { pages } = await readBack(await renderCostSheet({ ...costSheetPaper, working }));
    const alone = pages.flatMap((page) => {
      const texts = page.map((word) => word.text);
      return texts.filter((text) => /^Part \d+$/.test(text) && !texts.includes(`Entry ${text.slice(5)}.1`));
    });
    expect(alone).toEqual([]);
    expect(pages.length).toBeGreaterThan(2);
  });

  test('a long cost sheet that does not fit side by side goes on below', async () => {
    const rows = Array.from({ length: 60 }, (_, at) => ({
      label: `Stage ${at + 1}`,
      time: '10 min',
      amount: '5.83',
      strong: false,
    }));
    const paper = await readBack(
      await renderCostSheet({ ...costSheetPaper, hours: { heading: 'Hours', rows } }),
    );
    const stages = paper.pages.flat().filter((word) => /^Stage \d+$/.test(word.text));
    expect(stages.map((word) => word.text)).toEqual(rows.map((row) => row.label));
  });

  test('notes of many pages are all there', async () => {
    const note = Array.from({ length: 900 }, (_, at) => `word${at + 1}`).join(' ');
    const paper = await readBack(await renderInvoice({ ...invoicePaper, notes: [note, note] }));
    expect(squeezed(textOf(paper))).toContain(squeezed(note).slice(0, 400));
    expect(textOf(paper).match(/word900/g)).toHaveLength(2);
  });
});

describe('Names in any script', () => {
  const withBuyer = (name: string): InvoicePaper => ({ ...invoicePaper, buyer: { name, lines: [] } });

  test.each([
    ['Cyrillic', 'Юрий Ковалёв'],
    ['Greek', 'Ελένη Ξανθή'],
    ['Vietnamese', 'Nguyễn Thị Ánh'],
    ['Icelandic and Polish', 'Þórður Łącki'],
    ['Georgian', 'ნინო'],
  ])('%s is set and read back', async (_script, name) => {
    expect(textOf(await readBack(await renderInvoice(withBuyer(name))))).toContain(name);
  });

  test.each([
    ['Hebrew', 'שלום עולם'],
    ['Arabic', 'مبارك بن علي'],
  ])('%s is drawn with letters, not with empty boxes', async (_script, name) => {
    const text = textOf(await readBack(await renderInvoice(withBuyer(name))));
    const letters = Array.from(name).filter((letter) => letter !== ' ').length;
    const found = Array.from(text.normalize('NFKC')).filter(
      (letter) => name.includes(letter) && letter !== ' ',
    ).length;
    expect(found).toBeGreaterThanOrEqual(letters);
    expect(text).not.toContain('\u25a1');
  });

  test('letters that no typeface has are boxed, and the file still says what they are', async () => {
    const bytes = await renderInvoice(withBuyer('刀匠'));
    expect(textOf(await readBack(bytes))).toContain('\u25a1\u25a1');
  });

  test.each(['😀🔪', '👩‍🔧 Ana', '', '   ', '\u0000\u0007', 'é'.normalize('NFD'), 'W'.repeat(200), 'a\u202eb'])(
    'an odd name does not stop the paper: %j',
    async (name) => {
      const paper = await readBack(await renderInvoice(withBuyer(name)));
      expect(textOf(paper)).toContain('Total USD');
    },
  );
});

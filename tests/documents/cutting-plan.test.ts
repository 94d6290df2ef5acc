/** The cutting plan on paper, from the books to the file, read back with an independent reader (pdfjs-dist). */
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { renderCuttingPlan } from '../../electron/documents/cutting-plan.ts';
import type { Press } from '../../electron/documents/types.ts';
import { toBase } from '../../electron/domain/quantity.ts';
import { openRig, type Rig } from '../workshop/rig.ts';
import { micro, type Shelf, stockShelf } from '../workshop/shelf.ts';
import { readBack, textOf, type Word } from './read-back.ts';

const INCH = 25_400_000;
const POINTS_PER_INCH = 72;

let rig: Rig;
let shelf: Shelf;
beforeEach(async () => {
  const press: Partial<Press> = { cutting: renderCuttingPlan };
  rig = await openRig({ renderer: press as Press });
  shelf = await stockShelf(rig);
});
afterEach(() => rig.close());

const bytesOf = (file: { readonly base64: string }): Uint8Array =>
  new Uint8Array(Buffer.from(file.base64, 'base64'));
/** Middles of the blanks' numbers in the drawing, which all stand on one line; the table's stand below each other. */
function marksOf(page: readonly Word[], marks: readonly string[]): readonly number[] {
  const onOneLine = page
    .filter((word) => word.text === marks[0])
    .map(({ y }) => marks.map((mark) => page.find((word) => word.text === mark && word.y === y)))
    .find((line) => line.every((word) => word !== undefined));
  if (onOneLine === undefined) throw new Error('the drawing has no numbers');
  return onOneLine.map((word) => (word.x + word.end) / 2);
}

describe('the cutting plan on paper', () => {
  it('draws blanks to the scale it states', async () => {
    await shelf.buy('bar', 1, 48 * INCH, 24);
    const blanks = [0, 1, 2].map((at) => ({ key: `b${at}`, label: `Spare ${at + 1}`, length: 8.5 * INCH }));
    const input = { itemId: shelf.itemIds.bar, kerf: INCH / 16, blanks };
    const file = await rig.call('cutting.planPdf', input);
    expect([file.mime, file.name]).toEqual([
      'application/pdf',
      'Cutting plan Stainless bar 0.070 - 1.25 2024-07-06.pdf',
    ]);
    const paper = await readBack(bytesOf(file));
    const said = textOf(paper);
    for (const text of ['Cutting plan', '1 : 10', 'Spare 3', 'L-0001', 'Stays on the rack'])
      expect(said).toContain(text);
    expect([paper.marked, paper.pages.length]).toEqual([true, 1]);
    const [page = []] = paper.pages;
    // From the middle of one blank to the middle of the next: its length and a kerf, a tenth of the true size.
    const step = ((8.5 + 1 / 16) * POINTS_PER_INCH) / 10;
    const [first = 0, second = 0, third = 0] = marksOf(page, ['1', '2', '3']);
    expect(second - first).toBeCloseTo(step, 1);
    expect(third - second).toBeCloseTo(step, 1);
    // The same plan gives the same bytes.
    expect(await rig.call('cutting.planPdf', input)).toEqual(file);
  });

  it('lists the cuts of a sheet in order, and what finds no place', async () => {
    const line = {
      itemId: shelf.itemIds.sheet,
      pieces: 1,
      qtyEach: toBase(144, 'sqin'),
      priceMicro: micro(60),
      sheet: { lengthNm: 12 * INCH, widthNm: 12 * INCH },
    };
    await rig.call('stock.buy', { supplierId: shelf.supplierId, on: '2024-07-02', lines: [line] });
    const piece = (key: string, inches: number) => ({
      key,
      label: `Scale ${key}`,
      lengthNm: inches * INCH,
      widthNm: 1.5 * INCH,
    });
    const pieces = [piece('a', 5), piece('b', 5), piece('long', 13)];
    const input = { itemId: shelf.itemIds.sheet, kerf: INCH / 16, pieces };
    const plan = await rig.call('cutting.planSheets', input);
    const paper = await readBack(bytesOf(await rig.call('cutting.planSheetsPdf', input)));
    const said = textOf(paper).replaceAll(/\s+/g, '');
    for (const [at, cut] of (plan.sheets[0]?.cuts ?? []).entries())
      expect(said).toContain(`${at + 1}.${cut.replaceAll(/\s+/g, '')}`);
    expect(said).toContain('Scalelong');
    expect(said).toContain('1:2.5');
  });

  it('goes on over pages when there are many bars', async () => {
    await shelf.buy('bar', 16, 12 * INCH, 8);
    const blanks = Array.from({ length: 16 }, (_, at) => ({
      key: `b${at}`,
      label: `Spare ${at + 1}`,
      length: 11 * INCH,
    }));
    const paper = await readBack(
      bytesOf(await rig.call('cutting.planPdf', { itemId: shelf.itemIds.bar, kerf: INCH / 16, blanks })),
    );
    expect(paper.pages.length).toBeGreaterThan(1);
    expect(textOf(paper)).toContain('Spare 16');
  });
});

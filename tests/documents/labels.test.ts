/** Labels: the codes are read back by another library than the one that makes them, from the printed page. */
import jsQr from 'jsqr';
import { describe, expect, it } from 'vitest';
import { renderLabels } from '../../electron/documents/labels.ts';
import type { LabelSheetKey, LabelsPaper } from '../../electron/documents/types.ts';
import { hasRaster, rasterOf } from './raster.ts';
import { readBack } from './read-back.ts';

const paper = (sheet: LabelSheetKey, count: number, skip = 0): LabelsPaper => ({
  language: 'en',
  madeAt: '2024-07-06T12:00:00.000Z',
  workshopName: 'Sedgewarren Edge Shop',
  title: 'Rack labels',
  sheet,
  skip,
  labels: Array.from({ length: count }, (_, at) => ({
    code: `L-${String(at + 1).padStart(4, '0')}`,
    tag: `L-${String(at + 1).padStart(4, '0')}`,
    name: 'Stainless bar 0.070 × 1.25 with a name that is longer than any label is wide',
    facts: ['48 in', 'Heat H-7731', 'Place: Rack 2, top'],
    foot: 'In since 2024-07-02',
  })),
});

function cropped(
  page: ReturnType<typeof rasterOf>,
  [x, y, w, h]: readonly [number, number, number, number],
): string | undefined {
  const data = new Uint8ClampedArray(w * h * 4);
  for (let row = 0; row < h; row += 1) {
    const from = ((y + row) * page.width + x) * 4;
    data.set(page.data.subarray(from, from + w * 4), row * w * 4);
  }
  return jsQr(data, w, h)?.data;
}

const DPI = 200;
const dots = (points: number): number => Math.round((points * DPI) / 72);

describe('labels', () => {
  it('part a name that is too wide between its words where there is room for it', async () => {
    const [label] = paper('roll62x29', 1).labels;
    const name = 'Stainless strip 0.080 × 1.5 in';
    const told = { ...paper('roll62x29', 1), labels: label === undefined ? [] : [{ ...label, name }] };
    const words = (await readBack(await renderLabels(told))).pages.flat();
    expect(words.map((word) => word.text).join(' ')).toContain(name);
    expect(words.some((word) => word.text.endsWith('…'))).toBe(false);
  });

  it.each([
    ['roll62x29', 3, 3, [175.748, 82.205]],
    ['a4of24', 25, 2, [595.276, 841.89]],
    ['letterOf30', 30, 1, [612, 792]],
  ] as const)('of %s: %i of them make %i pages of the right size', async (sheet, count, pages, size) => {
    const bytes = await renderLabels(paper(sheet, count));
    const read = await readBack(bytes);
    expect(read.pages).toHaveLength(pages);
    expect([read.title, read.language, read.marked]).toEqual(['Rack labels', 'en', true]);
    const box = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(Buffer.from(bytes).toString('latin1'));
    expect([Number(box?.[1]), Number(box?.[2])]).toEqual([
      expect.closeTo(size[0], 1),
      expect.closeTo(size[1], 1),
    ]);
    // Nothing is set beyond the page, and a name too long is shortened.
    for (const word of read.pages.flat()) expect(word.end).toBeLessThan(size[0]);
    expect(read.pages.flat().filter((word) => word.text.endsWith('…'))).toHaveLength(count);
  });

  it('start after the labels already used', async () => {
    const read = await readBack(await renderLabels(paper('letterOf30', 3, 28)));
    expect(read.pages.map((page) => page.filter((word) => word.text.startsWith('L-')).length)).toEqual([
      2, 1,
    ]);
  });

  it.skipIf(!hasRaster).each([
    ['roll62x29', 0, [0, 0, 90, 82]],
    ['a4of24', 4, [198, 106, 100, 105]],
    ['letterOf30', 29, [410, 684, 76, 72]],
  ] as const)('of %s carry a code another library reads from the page', async (sheet, at, place) => {
    const page = rasterOf(await renderLabels(paper(sheet, at + 1)), DPI);
    const [x, y, w, h] = place.map(dots) as [number, number, number, number];
    expect(cropped(page, [x, y, w, h])).toBe(`L-${String(at + 1).padStart(4, '0')}`);
  });
});

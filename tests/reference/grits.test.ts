/** E5: grades of coated abrasives. */
import { describe, expect, it } from 'vitest';
import {
  byGrain,
  gradesOf,
  grainOf,
  micrometresOf,
  parseGrit,
  tidyGrit,
} from '../../electron/domain/grits.ts';

/** READ: table of ISO 6344 / FEPA P-grades at stusshed.wordpress.com; P12 to P120 READ again at sizes.com. */
const fepa =
  'P12 1815 P16 1324 P20 1000 P24 764 P30 642 P36 538 P40 425 P50 336 P60 269 P80 201 P100 162 P120 125 P150 100 P180 82 P220 68 P240 58.5 P280 52.2 P320 46.2 P360 40.5 P400 35.0 P500 30.2 P600 25.8 P800 21.8 P1000 18.3 P1200 15.3 P1500 12.6 P2000 10.3 P2500 8.4';
/** READ: CAMI column of the same table; sizes.com gives slightly other values for 24, 36, 60 and 80. */
const cami =
  '24 708 36 530 50 348 60 265 80 190 100 140 120 115 150 92 240 53.0 320 36.0 360 28.0 400 23.0 500 20.0 600 16.0 800 12.6 1000 10.3';

/** Rows of the CAMI scale that are known from memory only: between their neighbours, no more is checked. */
const fromMemory = ['cami 180', 'cami 220'];

const rows = (text: string): readonly (readonly [string, number])[] =>
  [...text.matchAll(/(\S+) (\S+)/g)].map(([, grade = '', size = '']) => [grade, Number(size)] as const);

describe('grades of coated abrasives', () => {
  it.each([
    ['fepa', rows(fepa)],
    ['cami', rows(cami)],
  ] as const)(
    'E5a: the %s scale is the published one, and each finer grade has smaller grains',
    (scale, table) => {
      expect(gradesOf(scale).filter((grade) => !fromMemory.includes(`${scale} ${grade}`))).toEqual(
        table.map(([grade]) => grade),
      );
      expect(table.map(([grade]) => micrometresOf(scale, grade))).toEqual(table.map(([, size]) => size));
      const sizes = table.map(([, size]) => size);
      expect(sizes).toEqual([...new Set(sizes)].sort((a, b) => b - a));
    },
  );

  it('E5a: rows from memory lie between the ones that were read', () => {
    const order = gradesOf('cami');
    const sizes = order.map((grade) => micrometresOf('cami', grade) ?? 0);
    expect(order.slice(order.indexOf('150'), order.indexOf('240') + 1)).toEqual(['150', '180', '220', '240']);
    expect(sizes).toEqual([...new Set(sizes)].sort((a, b) => b - a));
  });

  it('E5b: 400 is finer than P400 and near P800 (READ: ptwoodschool.org, ruddwoodfinishes.com and two more)', () => {
    const [plain, p400, p800] = [parseGrit('400'), parseGrit('P400'), parseGrit('p 800')];
    const size = (grit: ReturnType<typeof parseGrit>): number =>
      grainOf(grit?.scale ?? null, grit?.grit ?? '') ?? 0;
    expect([size(plain), size(p400), size(p800)]).toEqual([23_000, 35_000, 21_800]);
    expect(Math.abs(size(plain) - size(p800))).toBeLessThan(Math.abs(size(plain) - size(p400)));
    expect([plain?.scale, p400?.scale]).toEqual(['cami', 'fepa']);
  });
});

describe('a grade as it is written', () => {
  it.each([
    ['36', { scale: 'cami', grit: '36' }],
    ['#120', { scale: 'cami', grit: '120' }],
    [' p120 ', { scale: 'fepa', grit: 'P120' }],
    ['15 µm', { scale: 'micron', grit: '15' }],
    ['0,5 micron', { scale: 'micron', grit: '0.5' }],
    ['non-woven fine', { scale: 'other', grit: 'non-woven fine' }],
  ] as const)('%s is read', (text, wanted) => {
    expect(parseGrit(text)).toEqual(wanted);
  });

  it('says nothing where nothing is known, and never borrows a grain from the other scale', () => {
    expect(parseGrit('  ')).toBeNull();
    expect([
      grainOf('cami', 'P400'),
      grainOf('cami', '221'),
      grainOf('fepa', '400'),
      grainOf('other', '400'),
    ]).toEqual([null, null, 35_000, null]);
    expect([grainOf(null, '400'), grainOf('micron', 'x'), grainOf('cami', 'constructor')]).toEqual([
      null,
      null,
      null,
    ]);
    expect(tidyGrit('fepa', '400')).toBe('P400');
  });

  it('sorts coarse to fine over all scales, what is unknown last', () => {
    const list = ['400', 'P400', 'fine', 'P36', '36', '30 µm'].map((text) => parseGrit(text));
    const sorted = list.flatMap((grit) => (grit === null ? [] : [grit])).sort(byGrain);
    expect(sorted.map(({ grit }) => grit)).toEqual(['P36', '36', 'P400', '30', '400', 'fine']);
  });
});

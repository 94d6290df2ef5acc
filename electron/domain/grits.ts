/**
 * Grades of coated abrasives and the average size of their grains. The scales are apart on purpose: P400 (FEPA) is
 * coarser than 400 (CAMI), so a grade is never compared by its number, only by its grain.
 */

/** `fepa`: P-grades of FEPA and ISO 6344. `cami`: plain numbers. `micron`: the grain size itself. `other`: a maker's own word. */
export type GritScale = 'fepa' | 'cami' | 'micron' | 'other';

/** A grade on its scale. */
export interface Grit {
  readonly scale: GritScale;
  /** As written: `P400`, `400`, `15`, `fine`. */
  readonly grit: string;
}

/** Average grain in thousandths of a micrometre; sources are named in tests/reference/grits.test.ts. */
const fepa: Readonly<Record<string, number>> = {
  P12: 1_815_000,
  P16: 1_324_000,
  P20: 1_000_000,
  P24: 764_000,
  P30: 642_000,
  P36: 538_000,
  P40: 425_000,
  P50: 336_000,
  P60: 269_000,
  P80: 201_000,
  P100: 162_000,
  P120: 125_000,
  P150: 100_000,
  P180: 82_000,
  P220: 68_000,
  P240: 58_500,
  P280: 52_200,
  P320: 46_200,
  P360: 40_500,
  P400: 35_000,
  P500: 30_200,
  P600: 25_800,
  P800: 21_800,
  P1000: 18_300,
  P1200: 15_300,
  P1500: 12_600,
  P2000: 10_300,
  P2500: 8_400,
};

const cami: Readonly<Record<string, number>> = {
  '24': 708_000,
  '36': 530_000,
  '50': 348_000,
  '60': 265_000,
  '80': 190_000,
  '100': 140_000,
  '120': 115_000,
  '150': 92_000,
  // 180 and 220 from memory; the other rows were read.
  '180': 78_000,
  '220': 66_000,
  '240': 53_000,
  '320': 36_000,
  '360': 28_000,
  '400': 23_000,
  '500': 20_000,
  '600': 16_000,
  '800': 12_600,
  '1000': 10_300,
};

const tables: Readonly<Partial<Record<GritScale, Readonly<Record<string, number>>>>> = { fepa, cami };

/** Known grades of a scale, coarse to fine; none for `micron` and `other`. */
export const gradesOf = (scale: GritScale): readonly string[] =>
  Object.entries(tables[scale] ?? {})
    .sort(([, a], [, b]) => b - a)
    .map(([grade]) => grade);

const micronNumber = /^(\d{1,4}(?:[.,]\d{1,3})?)\s*(?:µm|μm|um|micron)?$/i;

/** Brings a grade into the way its scale writes it: `p 400` on FEPA becomes `P400`; others lose spaces at their ends only. */
export const tidyGrit = (scale: GritScale, grit: string): string => {
  const text = grit.trim();
  if (scale === 'fepa') return text.replace(/^p?\s*(?=\d)/i, 'P').toUpperCase();
  if (scale === 'cami') return text.replace(/^#\s*/, '');
  if (scale === 'micron') return (micronNumber.exec(text)?.[1] ?? text).replace(',', '.');
  return text;
};

/** Average grain in thousandths of a micrometre; null where the scale or the grade says nothing. */
export const grainOf = (scale: GritScale | null, grit: string): number | null => {
  if (scale === null) return null;
  const tidy = tidyGrit(scale, grit);
  if (scale === 'micron') return micronNumber.test(tidy) ? Math.round(Number(tidy) * 1000) : null;
  const table = tables[scale];
  return table !== undefined && Object.hasOwn(table, tidy) ? (table[tidy] ?? null) : null;
};

/** Average grain in micrometres, for showing. */
export const micrometresOf = (scale: GritScale | null, grit: string): number | null => {
  const grain = grainOf(scale, grit);
  return grain === null ? null : grain / 1000;
};

/**
 * Reads a grade as it is written on the back of a belt: `P400` is FEPA, a plain `400` is CAMI, `15 µm` is the grain
 * itself. Anything else is a maker's own word. An empty text is no grade.
 */
export const parseGrit = (text: string): Grit | null => {
  const written = text.trim();
  if (written === '') return null;
  if (/^p\s*\d+$/i.test(written)) return { scale: 'fepa', grit: tidyGrit('fepa', written) };
  if (/^#?\s*\d+$/.test(written)) return { scale: 'cami', grit: tidyGrit('cami', written) };
  if (/^[\d.,]+\s*(?:µm|μm|um|micron)$/i.test(written)) {
    return { scale: 'micron', grit: tidyGrit('micron', written) };
  }
  return { scale: 'other', grit: written };
};

/** Coarse to fine; what has no known grain goes last, by its word. */
export const byGrain = (
  a: { readonly scale: GritScale | null; readonly grit: string },
  b: { readonly scale: GritScale | null; readonly grit: string },
): number => {
  const [x, y] = [grainOf(a.scale, a.grit), grainOf(b.scale, b.grit)];
  if (x !== null && y !== null) return y - x;
  if (x !== null) return -1;
  return y === null ? a.grit.localeCompare(b.grit, 'en', { numeric: true }) : 1;
};

/** The grade of an item in words: `P400`, `36`, `15 µm`, and its backing. */
export const gritText = (item: {
  readonly scale: GritScale | null;
  readonly grit: string;
  readonly backing: string;
}): string =>
  [item.scale === 'micron' && item.grit !== '' ? `${item.grit} µm` : item.grit, item.backing]
    .filter((part) => part !== '')
    .join(' ');

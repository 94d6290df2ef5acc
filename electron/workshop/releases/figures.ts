/** Key figures of a knife as a buyer asks for them, from what went into it and what its gates found. */
import { hardnessWords } from '../../domain/hardness.ts';
import { meanOf } from '../../domain/gates.ts';
import type { Scale } from '../../domain/hardness.ts';
import { formatQuantity } from '../../domain/quantity.ts';
import type { ReadDb } from '../../storage/db.ts';
import { checksForPreview, goodsInKnives } from '../../storage/queries/releases.ts';
import { readingRows } from '../../storage/queries/gates.ts';
import { houseOf } from '../costs/house.ts';
import { numberIn, wordsFor } from '../paper-words/index.ts';

interface KeyFigure {
  readonly key: 'steel' | 'handle' | 'sheath' | 'hardness' | 'edge' | 'weight';
  readonly label: string;
  readonly text: string;
}

const MM_NM = 1_000_000;

type CheckRow = ReturnType<typeof checksForPreview>[number];
interface Reading {
  readonly place: string;
  readonly value: number;
}

/** In the signs of a language: a point in a number becomes its own. */
const inSigns = (language: string, text: string): string =>
  text.replace(/\d+\.\d+/g, (number) => numberIn(language, number));

function hardnessText(readings: readonly Reading[], check: CheckRow, language: string): string | null {
  const mean = meanOf(readings.map((reading) => reading.value));
  if (mean === null) return null;
  // To a tenth: no tester is finer than that.
  const tenth = Math.round(mean / 100) * 100;
  const words = hardnessWords(tenth, (check.scale ?? 'HRC') as Scale);
  const count = readings.length > 1 ? `, ${wordsFor(language).preview.meanOf(readings.length)}` : '';
  return `${inSigns(language, words)}${count}`;
}

const THOU_NM = 25_400;

/** Both ways of writing it: buyers of thin edges compare them. */
function edgeText(readings: readonly Reading[], language: string, inch: boolean): string | null {
  if (readings.length === 0) return null;
  const { places } = wordsFor(language).preview;
  const mm = readings.map(({ place, value }) => {
    const size = numberIn(language, (value / MM_NM).toFixed(2));
    return place === '' ? size : `${places[place] ?? place} ${size}`;
  });
  const thou = readings.map(({ value }) => String(Math.round(value / THOU_NM)));
  return `${mm.join(', ')} mm${inch ? ` (${thou.join(', ')} thou)` : ''}`;
}

function figureOf(
  check: CheckRow,
  readings: readonly Reading[],
  language: string,
  habits: { inch: boolean; ounce: boolean },
) {
  switch (check.measure) {
    case 'hardness':
      return hardnessText(readings, check, language);
    case 'behindEdge':
      return edgeText(readings, language, habits.inch);
    default: {
      const value = readings[0]?.value;
      if (value === undefined) return null;
      const grams = inSigns(language, formatQuantity(Math.round(value / 1e9) * 1e9, 'weight', 'g'));
      return habits.ounce ? `${grams} (${inSigns(language, formatQuantity(value, 'weight', 'oz'))})` : grams;
    }
  }
}

const keyOf = { hardness: 'hardness', behindEdge: 'edge', weight: 'weight' } as const;

/** Goods as a buyer calls them: the size of the stock they were cut from says nothing about the knife. */
const withoutStockSize = (name: string): string =>
  name.replace(/\s+(?:(?:bar|strip|sheet|rod|plate|flat)\s+)?[\d./]+\s*×.*$/u, '');

const unique = (names: readonly string[]): string => [...new Set(names)].join(', ');

/** Key figures of each of these knives; what was not measured is left out. @param language of the labels */
export function keyFigures(
  db: ReadDb,
  buildIds: readonly string[],
  language = 'en',
): ReadonlyMap<string, readonly KeyFigure[]> {
  const { shop } = houseOf(db);
  const habits = { inch: shop.length_habit === 'inch', ounce: shop.weight_habit === 'oz' };
  const { figures: labels } = wordsFor(language).preview;
  const goods = goodsInKnives(db, buildIds);
  const checks = checksForPreview(db, buildIds);
  const readings =
    checks.length === 0
      ? []
      : readingRows(
          db,
          checks.map((check) => check.id),
        );
  return new Map(
    buildIds.map((buildId) => {
      const figures: KeyFigure[] = [];
      for (const key of ['steel', 'handle', 'sheath'] as const) {
        const names = goods
          .filter((row) => row.build_id === buildId && row.kind === key)
          .map((row) => withoutStockSize(row.name));
        if (names.length > 0) figures.push({ key, label: labels[key], text: unique(names) });
      }
      for (const measure of ['hardness', 'behindEdge', 'weight'] as const) {
        // The last one counts: a blade is measured again after it was mended.
        const check = checks.findLast((row) => row.build_id === buildId && row.measure === measure);
        if (check === undefined) continue;
        const text = figureOf(
          check,
          readings.filter((reading) => reading.check_id === check.id),
          language,
          habits,
        );
        if (text !== null) figures.push({ key: keyOf[measure], label: labels[keyOf[measure]], text });
      }
      return [buildId, figures];
    }),
  );
}

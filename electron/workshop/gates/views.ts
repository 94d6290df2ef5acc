/** Checks and targets as the contract answers them. */
import type { Check, GateTarget, HardnessScale, Measure, Verdict } from '../../api/gates.ts';
import { aboutGate, comparable, isWithin, meanOf } from '../../domain/gates.ts';
import { hardnessWords } from '../../domain/hardness.ts';
import { formatQuantity } from '../../domain/quantity.ts';
import type { ReadDb } from '../../storage/db.ts';
import { checkFiles, type checkRows, readingRows, type targetRows } from '../../storage/queries/gates.ts';
import { toAttachment } from '../files/views.ts';
import { needWorkshop } from '../workshop/need.ts';

type CheckRow = ReturnType<typeof checkRows>[number];
type TargetRow = ReturnType<typeof targetRows>[number];

/** A target as the contract answers it. */
export const toTarget = (row: TargetRow): GateTarget => ({
  id: row.id,
  measure: row.measure as Measure,
  modelId: row.model_id,
  modelName: row.model_name,
  steelItemId: row.steel_item_id,
  steelName: row.steel_name,
  target: row.target,
  low: row.low,
  high: row.high,
  note: row.note,
});

const THOU_NM = 25_400;

interface Habits {
  readonly inch: boolean;
  readonly ounce: boolean;
}

/** Thin things: thousandths of an inch, or hundredths of a millimetre. */
const thin = (nm: number, inch: boolean): string =>
  inch
    ? `${String(Math.round((nm / THOU_NM) * 10) / 10)} thou`
    : `${String(Math.round(nm / 10_000) / 100)} mm`;

function valueWords(measure: Measure, value: number, scale: HardnessScale | null, habits: Habits): string {
  const { unit } = aboutGate(measure);
  if (unit === 'milliHrc') return hardnessWords(value, scale ?? 'HRC');
  if (unit === 'ng') return formatQuantity(value, 'weight', habits.ounce ? 'oz' : 'g');
  if (unit === 'count') return String(value);
  if (measure === 'warp') return `${String(Math.round(value / 10_000) / 100)} mm`;
  return thin(value, habits.inch);
}

interface Reading {
  readonly place: string;
  readonly value: number;
}

function wordsOf(
  measure: Measure,
  readings: readonly Reading[],
  scale: HardnessScale | null,
  habits: Habits,
): string {
  const mean = meanOf(readings.map((reading) => reading.value));
  if (mean === null) return '';
  const each = readings.map(({ place, value }) => {
    const words = valueWords(measure, value, scale, habits);
    return place === '' ? words : `${place} ${words}`;
  });
  if (readings.length === 1 || readings.some((reading) => reading.place !== '')) return each.join(', ');
  return `${valueWords(measure, mean, scale, habits)}, mean of ${String(readings.length)}`;
}

/** Checks with their readings, files and the sentence that reports them. */
export function toChecks(db: ReadDb, rows: readonly CheckRow[]): Check[] {
  const { lengthHabit, weightHabit } = needWorkshop(db);
  const habits = { inch: lengthHabit === 'inch', ounce: weightHabit === 'oz' };
  const ids = rows.map((row) => row.id);
  const readings = readingRows(db, ids);
  const files = checkFiles(db, ids);
  return rows.map((row) => {
    const measure = row.measure as Measure;
    const scale = row.scale as HardnessScale | null;
    const own = readings
      .filter((reading) => reading.check_id === row.id)
      .map(({ place, value }) => ({ place, value }));
    const values = own.map((reading) => reading.value);
    return {
      id: row.id,
      buildId: row.build_id,
      serial: row.serial,
      title: row.title === '' ? row.model_name : row.title,
      modelCode: row.model_code,
      steelName: row.steel_name,
      heatNumber: row.heat_number ?? '',
      on: row.on_date,
      measure,
      unit: aboutGate(measure).unit,
      scale,
      readings: own,
      mean: meanOf(values),
      target: row.target,
      low: row.low,
      high: row.high,
      within: isWithin(comparable(measure, values, scale).values, row),
      verdict: row.verdict as Verdict,
      note: row.note,
      heatId: row.heat_id,
      voidedReason: row.voided_reason,
      words: wordsOf(measure, own, scale, habits),
      attachments: files.filter((file) => file.owner_id === row.id).map(toAttachment),
    };
  });
}

/** Gates in words, and their numbers as they are typed and read in this workshop's habits. */
import type { HardnessScale, Measure, Verdict } from '../../../electron/api/gates.ts';
import { aboutGate } from '../../../electron/domain/gates.ts';
import { ok, refuse } from '../../../electron/domain/outcome.ts';
import type { Outcome } from '../../../electron/domain/outcome.ts';
import { formatQuantity, parseQuantity } from '../../../electron/domain/quantity.ts';

/** What is looked for, in one line under the name. */
export const measureHints: Readonly<Record<Measure, string>> = {
  skate: 'A file skates along the whole edge after the quench.',
  warp: 'Greatest gap on a straight edge along the spine.',
  hardness: 'Three to five dents on flat, parallel, clean metal.',
  cracks: 'Lamp and loupe, flexed in the fingers.',
  behindEdge: 'Just above the edge bevel, at heel, middle and 10 mm from the tip.',
  weight: 'The finished knife.',
  edgeFlex: 'Pressed over a brass rod: it flexes and comes back; no set, no chip.',
  cut: 'Cuts of rope, card or wood before the edge falls off.',
  chop: 'Two cuts through a 2 × 4, no damage, still shaves.',
  fit: 'Greatest gap by light.',
};

export const verdictWords: Readonly<Record<Verdict | 'open', string>> = {
  open: 'Open',
  pass: 'Passed',
  rework: 'To rework',
  fail: 'Failed',
};

const MM = 1_000_000;
const THOU = 25_400;
const MILLI = 1000;

interface Habits {
  readonly inch: boolean;
  readonly ounce: boolean;
}

const number = (text: string): number | undefined => {
  const read = Number(text.trim().replace(',', '.'));
  return text.trim() !== '' && Number.isFinite(read) ? read : undefined;
};

/** A factor and what is written behind the number. */
function unitOfGate(
  measure: Measure,
  habits: Habits,
  scale: HardnessScale,
): { factor: number; suffix: string } {
  const { unit } = aboutGate(measure);
  if (unit === 'milliHrc') return { factor: MILLI, suffix: scale };
  if (unit === 'count') return { factor: 1, suffix: 'cuts' };
  if (measure === 'warp') return { factor: MM, suffix: 'mm' };
  return habits.inch ? { factor: THOU, suffix: 'thou' } : { factor: MM, suffix: 'mm' };
}

/** What stands behind the field. */
export const gateSuffix = (measure: Measure, habits: Habits, scale: HardnessScale = 'HRC'): string =>
  aboutGate(measure).unit === 'ng' ? (habits.ounce ? 'oz' : 'g') : unitOfGate(measure, habits, scale).suffix;

/** What such a reading commonly looks like; millimetres are the rest. Common practice, no source. */
const likelyReadings: Readonly<Record<string, string>> = {
  HRC: '60.5',
  HV: '700',
  HBW: '250',
  cuts: '120',
  thou: '8',
};

/** Reads what was typed into the measure's own unit. */
export function readGate(
  text: string,
  measure: Measure,
  habits: Habits,
  scale: HardnessScale = 'HRC',
): Outcome<number> {
  if (aboutGate(measure).unit === 'ng') {
    const weight = parseQuantity(text, 'weight', habits.ounce ? 'oz' : 'g');
    return weight.ok ? ok(weight.value.base) : weight;
  }
  const { factor, suffix } = unitOfGate(measure, habits, scale);
  const read = number(text.replace(suffix, ''));
  if (read === undefined)
    return refuse(`Write a number in ${suffix}, for example ${likelyReadings[suffix] ?? '0.2'}.`);
  return read < 0 ? refuse('This cannot be below zero.') : ok(Math.round(read * factor));
}

/** Writes a number of the measure without its unit. */
export function writeGate(
  value: number,
  measure: Measure,
  habits: Habits,
  scale: HardnessScale = 'HRC',
): string {
  if (aboutGate(measure).unit === 'ng')
    return formatQuantity(value, 'weight', habits.ounce ? 'oz' : 'g').replace(/ (oz|g)$/, '');
  const { factor, suffix } = unitOfGate(measure, habits, scale);
  const parts = suffix === 'thou' ? 10 : 1000;
  return String(Math.round((value / factor) * parts) / parts);
}

/** What is asked for in words, e.g. `60–62 HRC, best 61`. */
export function askedWords(
  measure: Measure,
  asked: { readonly target: number | null; readonly low: number | null; readonly high: number | null } | null,
  habits: Habits,
): string {
  if (asked === null) return '';
  const write = (value: number): string => writeGate(value, measure, habits);
  const suffix = gateSuffix(measure, habits);
  const { low, high, target } = asked;
  const span =
    low !== null && high !== null
      ? `${write(low)}–${write(high)} ${suffix}`
      : high !== null
        ? `at most ${write(high)} ${suffix}`
        : low !== null
          ? `at least ${write(low)} ${suffix}`
          : '';
  const best =
    target === null || target === 0 ? '' : `best ${write(target)}${span === '' ? ` ${suffix}` : ''}`;
  return [span, best].filter((part) => part !== '').join(', ');
}

/** Gates that ask for numbers, in the order a blade meets them. */
export const numberedMeasures: readonly Measure[] = [
  'warp',
  'hardness',
  'behindEdge',
  'weight',
  'cut',
  'fit',
];

/** The gates a knife has to pass: what each measures, what is asked for, and what a reading says. */
import type { Scale } from './hardness.ts';
import { toMilliHrc } from './hardness.ts';

/** What is measured or looked at, one gate each. */
export type Measure =
  'skate' | 'warp' | 'hardness' | 'cracks' | 'behindEdge' | 'weight' | 'edgeFlex' | 'cut' | 'chop' | 'fit';

/** The gates in words, on screens and on paper. */
export const measureWords: Readonly<Record<Measure, string>> = {
  skate: 'File skates',
  warp: 'Straightness',
  hardness: 'Hardness',
  cracks: 'Free of cracks',
  behindEdge: 'Behind the edge',
  weight: 'Weight',
  edgeFlex: 'Edge over the rod',
  cut: 'Working cut',
  chop: 'Chop',
  fit: 'Fit of guard and scales',
};

/** Unit of a measure's numbers: nanometre, thousandths of the hardness scale, nanogram, a count; null for pass or not. */
export type GateUnit = 'nm' | 'milliHrc' | 'ng' | 'count' | null;

interface About {
  readonly unit: GateUnit;
  /** Where it is measured; empty where the place does not matter. */
  readonly places: readonly string[];
  readonly caution: string | null;
}

const DESTRUCTIVE =
  'Face shield and heavy gloves, the blade behind a screen, bystanders told. Use a coupon or a sacrificed blade; never test a customer’s finished knife to failure.';

const ABOUT: Readonly<Record<Measure, About>> = {
  skate: { unit: null, places: [], caution: null },
  warp: {
    unit: 'nm',
    places: [],
    caution: 'Straightening a tempered blade by hand can snap it: glove, face shield, slow pressure.',
  },
  hardness: { unit: 'milliHrc', places: [], caution: null },
  cracks: { unit: null, places: [], caution: null },
  behindEdge: { unit: 'nm', places: ['heel', 'middle', 'tip'], caution: null },
  weight: { unit: 'ng', places: [], caution: null },
  edgeFlex: {
    unit: null,
    places: [],
    caution: 'An edge pressed over a rod can chip towards you: eye protection, edge away from the body.',
  },
  cut: { unit: 'count', places: [], caution: null },
  chop: { unit: null, places: [], caution: DESTRUCTIVE },
  fit: { unit: 'nm', places: [], caution: null },
};

/** What a gate measures. */
export const aboutGate = (measure: Measure): About => ABOUT[measure];

/** What is asked for: numbers in the measure's unit; null where nothing is. */
export interface Asked {
  readonly target: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

interface Target extends Asked {
  readonly measure: string;
  readonly modelId: string | null;
  readonly steelItemId: string | null;
}

const nearness = (target: Target): number =>
  (target.modelId === null ? 0 : 2) + (target.steelItemId === null ? 0 : 1);

/** What is asked of one knife: the row for its model and steel, else its model, else its steel, else for all. */
export const askedOf = <T extends Target>(
  targets: readonly T[],
  knife: { readonly measure: string; readonly modelId: string; readonly steelItemId: string | null },
): T | undefined =>
  targets
    .filter(
      (target) =>
        target.measure === knife.measure &&
        (target.modelId === null || target.modelId === knife.modelId) &&
        (target.steelItemId === null || target.steelItemId === knife.steelItemId),
    )
    .sort((a, b) => nearness(b) - nearness(a))[0];

/** Whether every reading lies within what is asked; null without readings or without bounds. */
export const isWithin = (
  values: readonly number[],
  { low, high }: Pick<Asked, 'low' | 'high'>,
): boolean | null => {
  if (values.length === 0 || (low === null && high === null)) return null;
  return values.every((value) => (low === null || value >= low) && (high === null || value <= high));
};

/** Mean of the readings, rounded once to the unit; null without. */
export const meanOf = (values: readonly number[]): number | null =>
  values.length === 0 ? null : Math.round(values.reduce((sum, value) => sum + value, 0) / values.length);

/** Readings on the scale bounds are kept in: hardness as thousandths of HRC, all else as it is. */
export const comparable = (
  measure: Measure,
  values: readonly number[],
  scale: Scale | null,
): { readonly values: readonly number[]; readonly problem: string | null } => {
  if (measure !== 'hardness') return { values, problem: null };
  const read = values.map((value) => toMilliHrc(value, scale ?? 'HRC'));
  const problems = read.flatMap((each) => (each.ok ? [] : [each.message]));
  return {
    values: read.flatMap((each) => (each.ok ? [each.value] : [])),
    problem: problems[0] ?? null,
  };
};

/** A set of bounds to begin with. Common practice, no source; nothing is in force until the maker takes it over. */
export interface FirstBounds {
  readonly key: string;
  readonly name: string;
  readonly bounds: readonly ({ readonly measure: Measure } & Asked)[];
}

const MM = 1_000_000;
const THOU = 25_400;
const HRC = 1000;
const warp = (mm: number) => ({ measure: 'warp', target: 0, low: null, high: Math.round(mm * MM) }) as const;
const hardness = (low: number, high: number) =>
  ({
    measure: 'hardness',
    target: ((low + high) / 2) * HRC,
    low: low * HRC,
    high: high * HRC,
  }) as const;
const edge = (low: number, high: number) =>
  ({ measure: 'behindEdge', target: null, low: low * THOU, high: high * THOU }) as const;
const fit = { measure: 'fit', target: 0, low: null, high: 0.05 * MM } as const;

/** Bounds offered by the kind of knife: hardness, straightness, thickness behind the edge, fit. */
export const firstBounds: readonly FirstBounds[] = [
  { key: 'paring', name: 'Paring or petty', bounds: [warp(0.5), hardness(59, 62), edge(5, 10), fit] },
  { key: 'chef', name: 'Chef, working', bounds: [warp(0.5), hardness(60, 63), edge(7, 12), fit] },
  { key: 'laser', name: 'Chef or slicer, very thin', bounds: [warp(0.5), hardness(60, 63), edge(4, 8), fit] },
  { key: 'hunter', name: 'Hunter', bounds: [warp(0.3), hardness(58, 61), edge(12, 20), fit] },
  { key: 'bushcraft', name: 'Bushcraft', bounds: [warp(0.3), hardness(58, 61), edge(15, 25), fit] },
  { key: 'camp', name: 'Camp or chopper', bounds: [warp(0.5), hardness(56, 59), edge(20, 35), fit] },
];

/** What a heat-treat record says: its steps in words, and the cautions that belong to it. Pure. */
import { nearFlash } from './baths.ts';
import { rational } from './rational.ts';
import { formatTemperature } from './temperature.ts';

/** The steps of a heat treatment in words, on screens and on paper. */
export const stepWords = {
  normalise: 'Normalise',
  anneal: 'Anneal',
  preheat: 'Preheat',
  soak: 'Soak',
  quench: 'Quench',
  cold: 'Cold',
  temper: 'Temper',
  stressRelief: 'Stress relief',
} as const;

/** A temperature on both scales, e.g. `815 °C (1499 °F)`; whole degrees, as no thermocouple of a workshop tells more. */
export const bothScales = (milliC: number): string => {
  const celsius = rational(milliC, 1000);
  return `${formatTemperature(celsius, 'C')} (${formatTemperature(celsius, 'F')})`;
};

/** What the cautions depend on. */
export interface HeatPlan {
  readonly steps: readonly {
    readonly kind: string;
    readonly tempMilliC: number | null;
    readonly note?: string;
  }[];
  readonly fireKind: 'oven' | 'forge' | null;
  /** Flash point of the bath's oil; null where none is written down or no bath is named. */
  readonly flashMilliC: number | null;
  /** True when a bath of oil is named. */
  readonly inOil: boolean;
  /** The bath's own warning: change due, water suspected. */
  readonly bathDue: string | null;
}

const oilCautions = (plan: HeatPlan): string[] => {
  const oil = plan.steps.filter((step) => step.kind === 'quench').map((step) => step.tempMilliC);
  const { flashMilliC } = plan;
  const tooHot = (milliC: number | null): boolean =>
    milliC !== null && flashMilliC !== null && nearFlash(milliC, flashMilliC);
  const hot = oil.find(tooHot);
  return [
    ...(plan.bathDue === null ? [] : [plan.bathDue]),
    ...(hot == null || flashMilliC === null
      ? []
      : [
          `Oil at ${bothScales(hot)} is within 28 °C (50 °F) of its flash point, ${bothScales(flashMilliC)}. Let it cool before the next blade.`,
        ]),
    'Quench fire: put the whole blade under in one movement, keep a tight lid and a class B extinguisher at hand, and no water near the oil.',
    flashMilliC === null
      ? 'Keep the oil at least 28 °C (50 °F) under its flash point; the safety sheet gives it. Write it on the bath.'
      : `Keep the oil at least 28 °C (50 °F) under its flash point of ${bothScales(flashMilliC)}.`,
  ];
};

const fireCautions = (kind: HeatPlan['fireKind']): string[] => {
  if (kind === 'forge')
    return [
      'Gas: cylinder outdoors and upright, joints tested for leaks, shut at the bottle. Doors open, fan on, carbon monoxide alarm on, in the room next door too.',
    ];
  return kind === 'oven'
    ? [
        'Oven: circuit and grounding by an electrician, an alarm for over-temperature, and somebody there for the first run.',
      ]
    : [];
};

/** Whom every caution defers to. */
const deferral =
  'The product’s safety sheet, your local code and a qualified person come before anything written here.';

/** Said in the step's own words: a bath has a temperature, plates and air have none. */
const isDry = (step: HeatPlan['steps'][number]): boolean =>
  step.tempMilliC === null && /\b(?:plates?|air)\b/i.test(step.note ?? '');

/** Oil is warned of unless the record says plainly that there was none. */
const quenchCautions = (plan: HeatPlan): string[] => {
  const quenches = plan.steps.filter((step) => step.kind === 'quench');
  if (plan.inOil || quenches.some((step) => !isDry(step))) return oilCautions(plan);
  return quenches.length === 0
    ? []
    : [
        'Quench without oil: heavy gloves and long sleeves, a clear way from the fire, and plates stay hot after the blade.',
      ];
};

/**
 * Cautions for one record, the pressing ones first. Facts: 29 CFR 1910.126(a) for the distance to the flash point; the
 * rest is common practice.
 */
export const heatCautions = (plan: HeatPlan): readonly string[] => {
  const cautions = [...quenchCautions(plan), ...fireCautions(plan.fireKind)];
  return cautions.length === 0 ? [] : [...cautions, deferral];
};

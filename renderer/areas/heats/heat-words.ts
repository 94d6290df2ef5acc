/** Heat treatment in the trade's words. */
import type { HeatStep, HeatStepKind } from '../../../electron/api/heats.ts';
import type { WaitKind } from '../../../electron/api/waits.ts';
import { stepWords } from '../../../electron/domain/heat-treatment.ts';
import { decimalText, rational } from '../../../electron/domain/rational.ts';
import { formatTemperature } from '../../../electron/domain/temperature.ts';
import { day } from '../../lib/format.ts';
import { shop } from '../../lib/shop.svelte.ts';

/** What a step's temperature is the temperature of. */
export const tempLabel = (kind: HeatStepKind): string => (kind === 'quench' ? 'Oil' : 'Temperature');

const waitKinds: Readonly<Record<HeatStepKind, WaitKind | undefined>> = {
  normalise: 'kiln',
  anneal: 'anneal',
  preheat: 'kiln',
  soak: 'kiln',
  quench: undefined,
  cold: 'cold',
  temper: 'temper',
  stressRelief: 'kiln',
};

/** The kind of wait a step is, where nobody has to stand there. */
export const waitOf = (step: HeatStep): WaitKind | undefined =>
  step.minutes > 0 ? waitKinds[step.kind] : undefined;

/** A temperature on both scales, the workshop's own first: `1500 °F (816 °C)`. */
export const temps = (milliC: number): string => {
  const celsius = rational(milliC, 1000);
  const [own, other] = shop.isInch ? (['F', 'C'] as const) : (['C', 'F'] as const);
  return `${formatTemperature(celsius, own)} (${formatTemperature(celsius, other)})`;
};

/** A sentence of the books with its days written for reading. */
export const spoken = (sentence: string): string => sentence.replace(/\d{4}-\d{2}-\d{2}/g, day);

/** Hardness with its spread, where there is one: `60.9 ± 0.4 HRC`. */
export const hardnessText = (found: {
  readonly n: number;
  readonly meanMilliHrc: number;
  readonly sdMilliHrc: number | null;
}): string => {
  const tenth = (milli: number): string => decimalText(Math.round(milli / 100), 1);
  const spread = found.sdMilliHrc === null ? '' : ` ± ${tenth(found.sdMilliHrc)}`;
  return `${tenth(found.meanMilliHrc)}${spread} HRC`;
};

/** A mean hardness: `60.9 HRC`. */
export const hrc = (milli: number): string => `${decimalText(Math.round(milli / 100), 1)} HRC`;

/** Steps in one line: `Soak 1500 °F (816 °C), Quench, 2 × Temper 400 °F (204 °C)`. */
export const stepsLine = (steps: readonly HeatStep[]): string => {
  const words = steps.map(
    (step) => `${stepWords[step.kind]}${step.tempMilliC === null ? '' : ` ${temps(step.tempMilliC)}`}`,
  );
  const runs: { text: string; times: number }[] = [];
  for (const text of words) {
    const last = runs.at(-1);
    if (last?.text === text) last.times += 1;
    else runs.push({ text, times: 1 });
  }
  return runs.map(({ text, times }) => (times === 1 ? text : `${String(times)} × ${text}`)).join(', ');
};

/** What looks odd about a making. Usual losses are common practice, told as such. */
import type { MakingStep } from '../../api/makings.ts';
import { minutesText } from '../../domain/durations.ts';
import { usualBilletLoss, usualStepLoss } from '../../domain/making-usual.ts';
import { percentText } from '../costs/fee-words.ts';

export interface MakingFacts {
  readonly kind: string;
  readonly state: string;
  readonly steps: readonly MakingStep[];
  readonly totalLossPpm: number | null;
  readonly minutes: number;
  readonly inheritedMinutes: number;
  readonly inputs: number;
  readonly outputs: number;
}

/** A tenth of a percent in parts per million. */
const TENTH = 1000;
const percent = (ppm: number): string => percentText(Math.round(ppm / TENTH) * TENTH);

const aboutStep = (step: MakingStep): string[] => {
  const usual = usualStepLoss(step.kind);
  if (usual === undefined || step.lossPpm === null || step.lossPpm <= usual.highPpm) return [];
  return [
    `${step.label} lost ${percent(step.lossPpm)}; ${percent(usual.lowPpm)} to ${percent(usual.highPpm)} is common practice. Look at the flame, the flux and the welds.`,
  ];
};

const aboutWhole = ({ steps, totalLossPpm }: MakingFacts): string[] => {
  const restacks = steps.filter((step) => step.pieces > 1).length;
  const usual = usualBilletLoss(restacks);
  if (usual === undefined || totalLossPpm === null || totalLossPpm <= usual.highPpm) return [];
  const times = restacks === 1 ? 'one restack' : restacks === 2 ? 'two restacks' : 'three or more restacks';
  return [
    `${percent(totalLossPpm)} was lost in all; ${percent(usual.lowPpm)} to ${percent(usual.highPpm)} is common practice with ${times}.`,
  ];
};

const aboutWeights = (facts: MakingFacts): string[] =>
  facts.kind === 'billet' &&
  facts.steps.length > 0 &&
  facts.steps.every((step) => step.weightAfterNg === null)
    ? ['Nothing has been weighed yet, so no loss can be told.']
    : [];

const aboutHours = (facts: MakingFacts): string[] => [
  ...(facts.state === 'done' && facts.minutes === 0
    ? ['No hours are booked on it: what comes out of it carries none.']
    : []),
  ...(facts.inheritedMinutes > 0
    ? [`${minutesText(facts.inheritedMinutes)} of its hours came along in material made here before.`]
    : []),
];

/** Sentences to show with the making. */
export const remarksOn = (facts: MakingFacts): string[] => [
  ...(facts.inputs === 0 && facts.state !== 'open' ? ['Nothing went into it, so it cost nothing.'] : []),
  ...aboutWeights(facts),
  ...facts.steps.flatMap(aboutStep),
  ...aboutWhole(facts),
  ...aboutHours(facts),
];

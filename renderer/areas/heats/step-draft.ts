/** Steps of a heat treatment while they are being written. */
import type { HeatStep, HeatStepKind } from '../../../electron/api/heats.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

export interface StepDraft {
  kind: HeatStepKind;
  tempMilliC: number | undefined;
  minutes: number | undefined;
  note: string;
}

export const toDraft = (step: HeatStep): StepDraft => ({
  ...step,
  tempMilliC: step.tempMilliC ?? undefined,
  minutes: step.kind === 'quench' && step.minutes === 0 ? undefined : step.minutes,
});

/** What the contract takes; only a quench may do without a time. */
export const toStep = (draft: StepDraft): HeatStep => ({
  kind: draft.kind,
  tempMilliC: draft.tempMilliC ?? null,
  minutes: draft.minutes ?? (draft.kind === 'quench' ? 0 : missingNumber),
  note: draft.note,
});

const plain = (kind: HeatStepKind): StepDraft => ({
  kind,
  tempMilliC: undefined,
  minutes: undefined,
  note: '',
});

/** What a treatment usually has; temperatures are the maker's own to write. */
export const usualSteps = (): StepDraft[] => [
  plain('soak'),
  plain('quench'),
  plain('temper'),
  plain('temper'),
];

/** The step that usually follows, begun from the last one. */
export const nextStep = (steps: readonly StepDraft[]): StepDraft => {
  const last = steps.at(-1);
  return last?.kind === 'temper' ? { ...last, note: '' } : plain('temper');
};

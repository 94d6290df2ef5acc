/** Steps of a heat treatment between the contract and the books. */
import type { HeatStep, HeatStepKind } from '../../api/heats.ts';
import { refused } from '../../api/errors.ts';
import type { StepColumns } from '../../storage/queries/heats.ts';

/** A step as the contract answers it. */
export const toStep = (row: StepColumns): HeatStep => ({
  kind: row.kind as HeatStepKind,
  tempMilliC: row.temp_milli_c,
  minutes: row.minutes,
  note: row.note,
});

/** Steps as the books keep them, in their order. */
export const stepColumns = (steps: readonly HeatStep[]): StepColumns[] =>
  steps.map((step, position) => ({
    position,
    kind: step.kind,
    temp_milli_c: step.tempMilliC,
    minutes: step.minutes,
    note: step.note,
  }));

/** A temper above this is no temper: the lowest temperature at which plain carbon steel begins to turn austenitic (Ac1, 727 °C; from memory). */
const AC1_MILLI_C = 727_000;

/** @throws FaultError `refused` for a temper that would undo the hardening: a slip of the unit, most likely */
export function demandSaneSteps(steps: readonly HeatStep[]): void {
  steps.forEach((step, at) => {
    const hot = step.kind === 'temper' && step.tempMilliC !== null && step.tempMilliC >= AC1_MILLI_C;
    if (hot)
      throw refused(
        'A temper this hot would undo the hardening. Check the number and its scale, °C or °F.',
        `steps.${String(at)}.tempMilliC`,
      );
  });
}

/** What a session was spent on, as a form holds it: a stage with knives, or work that belongs to no knife. */
import type { Stage } from '../../../electron/api/workshop.ts';
import type { WorkKind } from '../../../electron/api/hours.ts';
import { workWords } from '../../lib/words.ts';

export interface Work {
  stageCode: string | null;
  workKind: WorkKind | null;
  buildIds: string[];
}

export const noWork = (): Work => ({ stageCode: null, workKind: null, buildIds: [] });

/** The work as the contract takes it: other work has no knives. */
export const workInput = (work: Work) => ({
  stageCode: work.stageCode,
  workKind: work.workKind,
  buildIds: work.workKind === null ? work.buildIds : [],
});

/** A sentence on what is still to be chosen, or undefined when the work is complete. */
export const lacking = (work: Work): string | undefined => {
  if (work.workKind !== null) return undefined;
  if (work.stageCode === null) return 'Choose a stage, or other work.';
  return work.buildIds.length === 0 ? 'Choose the knives you work on.' : undefined;
};

/** Name of a stage or of other work. */
export const workName = (work: {
  readonly stageName: string | null;
  readonly workKind: WorkKind | null;
}): string => work.stageName ?? (work.workKind === null ? '' : workWords[work.workKind]);

/**
 * The usual caution for a stage, short; it stands beside the clock while such work runs.
 * Common practice, no single source; each defers to safety sheet, local code and qualified people.
 */
export const cautionFor = (stageCode: string | null): string | undefined =>
  stageCode === null ? undefined : cautions[stageCode];

const follow = 'Follow the safety sheet and your local code.';
const cautions: Readonly<Record<string, string>> = {
  BIL: `Hot work: clear what can burn, keep an extinguisher in reach, open doors and a carbon monoxide alarm. ${follow}`,
  FRG: `Hot work: clear what can burn, keep an extinguisher in reach, open doors and a carbon monoxide alarm. ${follow}`,
  HTA: `Quench fire: a lid that fits, a class B extinguisher, no water near the oil, the blade under in one movement. ${follow}`,
  GR1: `Dust and sparks: mask and eye protection; never sparks and wood dust in one collector. ${follow}`,
  GR2: `Dust and sparks: mask and eye protection; wet a thin edge often, heat ruins the temper. ${follow}`,
  BLT: `Dust and sparks: mask and eye protection; never sparks and wood dust in one collector. ${follow}`,
  ETC: `Acids: acid into water, never the other way; air, gloves, eye protection; nothing down the drain. ${follow}`,
  HDL: `Dust of resin, horn and many woods harms the lungs; epoxy harms the skin. Mask, extraction, gloves. ${follow}`,
  FIN: `Dust of resin, horn and many woods harms the lungs. Mask and extraction. ${follow}`,
  SHP: 'A finished edge cuts before it is felt: tape or sleeve it, and tell whoever stands by before an edge test.',
};

export const stagesOffered = (stages: readonly Stage[], chosen: string | null): readonly Stage[] =>
  stages
    .filter((stage) => stage.attended && (!stage.archived || stage.code === chosen))
    .toSorted((a, b) => a.position - b.position);

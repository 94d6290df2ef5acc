/** What a session was spent on, as a form holds it: a stage with knives, or work that belongs to no knife. */
import type { Stage } from '../../../electron/api/workshop.ts';
import type { SessionRow, WorkKind } from '../../../electron/api/hours.ts';
import { workWords } from '../../lib/words.ts';

export interface Work {
  stageCode: string | null;
  workKind: WorkKind | null;
  buildIds: string[];
  /** By knife; one that is missing weighs 1. */
  weights?: Readonly<Record<string, number>>;
  /** A making instead of knives. */
  makingId?: string | null;
}

export const noWork = (): Work => ({ stageCode: null, workKind: null, buildIds: [] });

const weightOf = (work: Work, id: string): number => work.weights?.[id] ?? 1;

/** Whether the time goes to a making. */
const onMaking = (work: Work): boolean => work.workKind === null && typeof work.makingId === 'string';

/** The work as a clock takes it: other work has no knives, nor has a making. */
export const workInput = (work: Work) => {
  const buildIds = work.workKind === null && !onMaking(work) ? work.buildIds : [];
  const weights = buildIds.map((id) => weightOf(work, id));
  return {
    stageCode: work.stageCode,
    workKind: work.workKind,
    buildIds,
    makingId: onMaking(work) ? (work.makingId ?? null) : null,
    ...(weights.some((weight) => weight !== weights[0]) ? { weights } : {}),
  };
};

/** The same as a written session takes it. */
export const sessionWork = (work: Work) => {
  const { buildIds, weights: _, ...rest } = workInput(work);
  return { ...rest, shares: buildIds.map((buildId) => ({ buildId, weight: weightOf(work, buildId) })) };
};

/** What a booked session was spent on, to be corrected. */
export const workOf = (session: SessionRow): Work => {
  const uneven = session.shares.some((share) => share.weight !== session.shares[0]?.weight);
  return {
    stageCode: session.stageCode,
    workKind: session.workKind,
    buildIds: session.shares.map((share) => share.buildId),
    makingId: session.makingId,
    ...(uneven
      ? { weights: Object.fromEntries(session.shares.map((share) => [share.buildId, share.weight])) }
      : {}),
  };
};

/** A sentence on what is still to be chosen, or undefined when the work is complete. */
export const lacking = (work: Work): string | undefined => {
  if (work.workKind !== null) return undefined;
  if (work.stageCode === null) return 'Choose a stage, or other work.';
  return work.buildIds.length === 0 && !onMaking(work) ? 'Choose the knives you work on.' : undefined;
};

/** Serials, or the making. */
export const workedOn = (work: {
  readonly makingTitle: string | null;
  readonly builds: readonly { readonly serial: string }[];
}): string => work.makingTitle ?? work.builds.map((build) => build.serial).join(', ');

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

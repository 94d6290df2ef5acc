/** What one usually goes on with: the next stages of what is on the clock, then of the batches, then what was done lately. */
import type { BatchRow, BuildDetail } from '../../../electron/api/builds.ts';
import type { BenchDay } from '../../../electron/api/desk.ts';
import type { Clock } from '../../../electron/api/hours.ts';
import { groupBy } from '../../../electron/domain/groups.ts';
import type { Work } from './work.ts';

export interface NextWork {
  readonly key: string;
  readonly name: string;
  /** Which knives, or which making. */
  readonly on: string;
  readonly work: Work;
  /** Runs now: it keeps its digit, so that no other one moves. */
  readonly running: boolean;
}

/** As many as there are digits. */
const MOST = 9;
/** Stages offered for what is on the clock; the rest of the digits are for the batches. */
const STAGES = 5;

const keyOf = (work: Work): string =>
  [work.stageCode, work.makingId ?? '', ...work.buildIds.toSorted()].join(' ');

const next = (name: string, on: string, work: Work): NextWork => ({
  key: keyOf(work),
  name,
  on,
  work,
  running: false,
});

const weightsOf = (clock: Clock): Pick<Work, 'weights'> =>
  clock.builds.some((build) => build.weight !== clock.builds[0]?.weight)
    ? { weights: Object.fromEntries(clock.builds.map((build) => [build.id, build.weight])) }
    : {};

/** The work on the clock, in another stage. */
export const inStage = (clock: Clock, stageCode: string): Work => ({
  stageCode,
  workKind: null,
  buildIds: clock.builds.map((build) => build.id),
  makingId: clock.makingId,
  ...weightsOf(clock),
});

const ofClock = (clock: Clock, knife: BuildDetail | undefined): NextWork[] =>
  (knife?.stages ?? [])
    .filter((stage) => stage.attended && (stage.doneOn === null || stage.code === clock.stageCode))
    .slice(0, STAGES)
    .map((stage) => ({
      ...next(stage.name, clock.builds.map((build) => build.serial).join(', '), inStage(clock, stage.code)),
      running: stage.code === clock.stageCode,
    }));

/** The stages the knives of a batch wait for, that of most of them first. */
const ofBatch = ({ batch, builds, nextStageCode }: BatchRow): NextWork[] => {
  const due = groupBy(
    builds.filter((build) => build.nextStageCode !== null),
    (build) => build.nextStageCode,
  );
  const first = due.get(nextStageCode) ?? [];
  return [first, ...[...due.values()].filter((group) => group !== first)].flatMap((group) => {
    const [any] = group;
    if (any?.nextStageName == null) return [];
    const work = { stageCode: any.nextStageCode, workKind: null, buildIds: group.map((build) => build.id) };
    return [next(any.nextStageName, `${batch}: ${group.map((build) => build.serial).join(', ')}`, work)];
  });
};

const ofLate = (late: BenchDay['lately'][number]): NextWork =>
  next(late.stageName, late.builds.map((build) => build.serial).join(', '), {
    stageCode: late.stageCode,
    workKind: null,
    buildIds: late.builds.map((build) => build.id),
  });

/**
 * At most nine, each once; what runs already only where it holds a place among the stages of its knives.
 * @param knife the first knife on the clock, whose planned stages say what follows
 */
export const nextWorks = (
  clock: Clock | undefined,
  knife: BuildDetail | undefined,
  batches: readonly BatchRow[],
  lately: BenchDay['lately'],
): readonly NextWork[] => {
  const running = clock?.stageCode == null ? undefined : keyOf(inStage(clock, clock.stageCode));
  const all = [
    ...(clock === undefined ? [] : ofClock(clock, knife)),
    ...batches.flatMap(ofBatch),
    ...lately.map(ofLate),
  ];
  return all
    .filter(
      (one, at) =>
        (one.running || one.key !== running) && all.findIndex((other) => other.key === one.key) === at,
    )
    .slice(0, MOST);
};

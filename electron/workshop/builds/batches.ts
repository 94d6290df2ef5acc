/** Use-case: batches with open knives, and what comes next in each. */
import type { BatchRow, BuildRow } from '../../api/builds.ts';
import { sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type BatchKnife, openBatchKnives } from '../../storage/queries/batches.ts';
import type { HandlerFor } from '../handlers.ts';
import { toBuildRows } from './views.ts';

/** The stage most of these knives wait for; the earlier knife decides a tie. */
function mostlyNext(builds: readonly BuildRow[]): Pick<BatchRow, 'nextStageCode' | 'nextStageName'> {
  const waiting = builds.filter((build) => build.nextStageCode !== null);
  const howMany = (build: BuildRow): number =>
    waiting.filter((other) => other.nextStageCode === build.nextStageCode).length;
  const [next] = waiting.toSorted((a, b) => howMany(b) - howMany(a));
  return { nextStageCode: next?.nextStageCode ?? null, nextStageName: next?.nextStageName ?? null };
}

const latest = (knives: readonly BatchKnife[]): string =>
  knives.reduce((so, knife) => (knife.worked_on > so ? knife.worked_on : so), '');

/** Batches with a knife planned or in work, the one worked on last first. */
export function openBatches(db: ReadDb): BatchRow[] {
  const batches = new Map<string, BatchKnife[]>();
  for (const knife of openBatchKnives(db)) {
    const own = batches.get(knife.batch);
    if (own) own.push(knife);
    else batches.set(knife.batch, [knife]);
  }
  return [...batches]
    .toSorted(([, a], [, b]) => (latest(a) > latest(b) ? -1 : latest(a) < latest(b) ? 1 : 0))
    .map(([batch, knives]) => {
      const builds = toBuildRows(db, knives);
      return { batch, builds, ...mostlyNext(builds), minutes: sumOf(builds, (build) => build.minutes) };
    });
}

/** Batches with knives still open, and what is next in each. */
export const batches: HandlerFor<'builds.batches'> = (ctx) => openBatches(ctx.db);

/** What failed makings cost the good ones: usual failures belong to the cost of the good, those beyond are lost. */
import { type FailureRow, type MakingKind, makingKinds } from '../../api/makings.ts';
import { normalSpoilt, spoilageCosts } from '../../domain/making-spoilage.ts';
import { endedMakings, type MakingRecord } from '../../storage/queries/makings.ts';
import type { HandlerFor } from '../handlers.ts';
import { exactCost } from './rows.ts';

function failureRow(kind: MakingKind, ended: readonly MakingRecord[], usualPpm: number): FailureRow {
  const failed = ended.filter((record) => record.state === 'scrapped');
  const usual = normalSpoilt(ended.length, failed.length, usualPpm);
  const counts = {
    cost: exactCost(ended),
    good: ended.length - failed.length,
    normal: usual,
    abnormal: failed.length - usual,
    inProcess: 0,
  };
  const counted = spoilageCosts({ ...counts, countSpoilt: true });
  const spread = spoilageCosts({ ...counts, countSpoilt: false });
  return {
    kind,
    started: ended.length,
    failed: failed.length,
    usual,
    costMicro: counts.cost,
    failedCostMicro: exactCost(failed),
    perStartedMicro: counted.perUnit,
    perGoodMicro: counted.perGood,
    perGoodAllMicro: spread.perGood,
    lossMicro: counted.abnormalLoss,
  };
}

/** Makings that have ended, by kind; kinds nobody made yet are left out. */
export const failures: HandlerFor<'makings.failures'> = (ctx, { usualPpm }) => {
  const ended = endedMakings(ctx.db);
  return makingKinds
    .map((kind) => ({ kind, own: ended.filter((record) => record.kind === kind) }))
    .filter(({ own }) => own.length > 0)
    .map(({ kind, own }) => failureRow(kind, own, usualPpm));
};

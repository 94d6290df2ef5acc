/** A release is set, told, withdrawn from, ended or dropped. */
import { invalid, refused } from '../../api/errors.ts';
import { minutesText } from '../../domain/durations.ts';
import { formatMinor } from '../../domain/money.ts';
import { claimsOfRelease, entryRows } from '../../storage/queries/claims.ts';
import {
  everyone,
  releaseKnifeRows,
  type ReleaseRecord,
  supportersOn,
  updateRelease,
  updateReleaseKnife,
} from '../../storage/queries/releases.ts';
import type { ReadDb } from '../../storage/db.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import type { HandlerFor } from '../handlers.ts';
import { closeLapsed } from './claims.ts';
import { runsAt } from './hat.ts';
import { writeLog } from './log.ts';
import { instantWords, momentOf, needRelease, needSet } from './need.ts';
import { demandReleasable } from './releasable.ts';
import { groupName } from './rules.ts';

/** The rules as they stand when a release is set, for the log. */
function rulesInWords(ctx: CommandContext, release: ReleaseRecord): string {
  const { clock } = ctx;
  return [
    release.rule === 'lot' ? 'By lot.' : 'Who comes first buys.',
    `Early group: ${groupName(ctx.db, release.least_rank)}.`,
    `Early window ${instantWords(clock, release.early_from)} to ${instantWords(clock, release.early_until)}, then open to all.`,
    release.one_each === 1 ? 'One knife each until then.' : '',
    `A hold lasts ${minutesText(release.hold_minutes)}.`,
  ]
    .filter((part) => part !== '')
    .join(' ');
}

function setRelease(ctx: CommandContext, release: ReleaseRecord, at: string): void {
  if (release.state !== 'draft') throw refused('This release is set already.');
  const knives = releaseKnifeRows(ctx.db, [release.id]);
  if (knives.length === 0) throw invalid('A release needs at least one knife. Choose some first.', 'knives');
  const { currency } = houseOf(ctx.db);
  const list = knives.map((knife) => {
    closeLapsed(ctx, knife.build_id, ctx.clock.now());
    demandReleasable(ctx.db, knife, release.id);
    return `${knife.serial} ${formatMinor(knife.price_minor, currency)}`;
  });
  updateRelease(ctx.db, release.id, { state: 'set' });
  const detail = `${rulesInWords(ctx, release)} ${list.join(', ')}.`;
  writeLog(ctx, { releaseId: release.id, at, what: 'set', detail });
}

/** @throws FaultError while somebody has a knife of the release kept */
function demandNothingRuns(ctx: CommandContext, release: ReleaseRecord): void {
  const running = claimsOfRelease(ctx.db, release.id).find((claim) => runsAt(claim, ctx.clock.now()));
  if (!running) return;
  throw refused(
    `${running.serial} is kept for ${running.buyer_name} until ${instantWords(ctx.clock, running.until_at)}. Wait for it, or free it first.`,
  );
}

function closeAllLapsed(ctx: CommandContext, release: ReleaseRecord): void {
  for (const knife of releaseKnifeRows(ctx.db, [release.id]))
    closeLapsed(ctx, knife.build_id, ctx.clock.now());
}

function backToDraft(ctx: CommandContext, release: ReleaseRecord, at: string, reason: string): void {
  if (release.state !== 'set') throw refused('Only a release that is set can go back to a draft.');
  const touched = claimsOfRelease(ctx.db, release.id).length > 0 || entryRows(ctx.db, release.id).length > 0;
  if (ctx.clock.now() >= release.early_from || touched)
    throw refused('People have acted on this release. End it instead.');
  updateRelease(ctx.db, release.id, { state: 'draft' });
  writeLog(ctx, { releaseId: release.id, at, what: 'backToDraft', detail: reason });
}

function endRelease(ctx: CommandContext, release: ReleaseRecord, at: string, reason: string): void {
  if (release.state !== 'set') throw refused('Only a release that is set can be ended.');
  demandNothingRuns(ctx, release);
  closeAllLapsed(ctx, release);
  updateRelease(ctx.db, release.id, { state: 'ended', ended_on: ctx.clock.localDay(at) });
  writeLog(ctx, { releaseId: release.id, at, what: 'ended', detail: reason });
}

function dropRelease(ctx: CommandContext, release: ReleaseRecord, at: string, reason: string): void {
  if (release.state === 'ended' || release.state === 'dropped')
    throw refused('This release is over already.');
  if (releaseKnifeRows(ctx.db, [release.id]).some((knife) => knife.sale_id !== null))
    throw refused('A knife was sold in this release, so it cannot be dropped. End it instead.');
  demandNothingRuns(ctx, release);
  closeAllLapsed(ctx, release);
  updateRelease(ctx.db, release.id, { state: 'dropped', ended_on: ctx.clock.localDay(at) });
  if (release.state === 'set') writeLog(ctx, { releaseId: release.id, at, what: 'dropped', detail: reason });
}

/** Sets a draft, takes it back, ends or drops a release. */
export const move: HandlerFor<'releases.move'> = {
  run(ctx, { id, to, reason, at: told }) {
    const release = needRelease(ctx.db, id);
    const at = momentOf(ctx.clock, told);
    if (to !== 'set' && release.state === 'set' && reason === '')
      throw invalid('This release is set and people may wait for it. Say why.', 'reason');
    const act = { set: setRelease, draft: backToDraft, ended: endRelease, dropped: dropRelease }[to];
    act(ctx, release, at, reason);
    return null;
  },
};

/** Takes one knife out of a release that is set. */
export const withdraw: HandlerFor<'releases.withdraw'> = {
  run(ctx, { id, buildId, reason, at: told }) {
    const release = needSet(ctx.db, id);
    const at = momentOf(ctx.clock, told);
    closeLapsed(ctx, buildId, at);
    const knife = releaseKnifeRows(ctx.db, [id]).find((each) => each.build_id === buildId);
    if (knife?.withdrawn_on !== null) throw invalid('This knife is not in the release.', 'buildId');
    if (knife.sale_id !== null) throw refused(`${knife.serial} was sold in this release.`, 'buildId');
    const kept = claimsOfRelease(ctx.db, id).find((claim) => claim.build_id === buildId && runsAt(claim, at));
    if (kept)
      throw refused(
        `${knife.serial} is kept for ${kept.buyer_name}. Free it first, and tell them.`,
        'buildId',
      );
    updateReleaseKnife(ctx.db, release.id, buildId, { withdrawn_on: ctx.clock.localDay(at) });
    writeLog(ctx, { releaseId: id, at, what: 'withdrawn', buildId, detail: reason });
    return null;
  },
};

/** Writes down that the maker told the early group. */
export const told: HandlerFor<'releases.told'> = {
  run(ctx, { id, at: given }) {
    const release = needSet(ctx.db, id);
    const at = momentOf(ctx.clock, given);
    const people = earlyGroup(ctx, release, ctx.clock.localDay(at));
    const mailed = people.filter((person) => person.email !== '').length;
    const count = people.length === 1 ? '1 person' : `${String(people.length)} people`;
    const detail = `${count}, ${String(mailed)} with an e-mail address.`;
    writeLog(ctx, { releaseId: id, at, what: 'told', detail });
    return null;
  },
};

/** The people of the early group on a day. */
export const earlyGroup = ({ db }: { readonly db: ReadDb }, release: ReleaseRecord, day: string) =>
  release.least_rank === 0
    ? everyone(db)
    : supportersOn(db, day).filter((person) => person.rank >= release.least_rank);

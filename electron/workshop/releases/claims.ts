/** Holds and offers: a knife kept for one person until an hour. They run out by themselves. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Claim } from '../../api/releases.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  type ClaimRecord,
  claimRow,
  claimsOfBuilds,
  endClaim,
  heldBy,
  insertClaim,
  runningClaims,
  unendedClaim,
} from '../../storage/queries/claims.ts';
import {
  askedFor,
  lastReleaseOfBuild,
  releaseOfBuild,
  releaseTagOf,
  type ReleaseRecord,
} from '../../storage/queries/releases.ts';
import { openOrderOf } from '../../storage/queries/releases.ts';
import { needBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { minutesLater } from '../hours/instants.ts';
import { needWorkshop } from '../workshop/need.ts';
import { runsAt } from './hat.ts';
import { writeLog } from './log.ts';
import { instantWords, momentOf, needPerson } from './need.ts';
import { type ByRule, demandMayHave } from './rules.ts';
import { phaseAt } from './phase.ts';

/** How long a knife of no release is held unless told. */
const USUAL_HOLD = 48 * 60;

/** A claim as the contract answers it. @param now UTC instant */
export const toClaim = (row: ClaimRecord, now: string): Claim => ({
  id: row.id,
  buildId: row.build_id,
  serial: row.serial,
  title: row.title === '' ? row.model_name : row.title,
  buyerId: row.buyer_id,
  buyerName: row.buyer_name,
  releaseId: row.release_id,
  releaseTag: row.release_number === null ? null : releaseTagOf(row.release_number),
  kind: row.kind as Claim['kind'],
  fromAt: row.from_at,
  untilAt: row.until_at,
  open: runsAt(row, now),
  // Nobody needs to be there for a claim to run out.
  outcome: row.ended_at === null && row.until_at <= now ? 'lapsed' : (row.outcome as Claim['outcome']),
  note: row.note,
});

function answer(ctx: CommandContext, id: string): Claim {
  const row = claimRow(ctx.db, id);
  if (!row) throw missing('This hold is not in the books. Load the page again.');
  return toClaim(row, ctx.clock.now());
}

/** Writes down that a claim ran out, if one did by an instant, at the hour it did. */
export function closeLapsed(ctx: CommandContext, buildId: string, at: string): void {
  const row = unendedClaim(ctx.db, buildId);
  if (!row || row.until_at > at) return;
  endClaim(ctx.db, row.id, { ended_at: row.until_at, outcome: 'lapsed' });
  if (row.release_id === null) return;
  writeLog(ctx, {
    releaseId: row.release_id,
    at: row.until_at,
    what: 'lapsed',
    buildId,
    buyerId: row.buyer_id,
    detail: row.kind === 'held' ? 'The hold ran out; the knife is free.' : 'No answer in time.',
  });
}

interface NewClaim {
  readonly buildId: string;
  readonly buyerId: string;
  readonly release: ReleaseRecord | undefined;
  readonly kind: 'held' | 'offered';
  readonly byRule: ByRule | '';
  readonly at: string;
  readonly minutes: number;
  readonly note: string;
}

/** Writes a claim and its line in the log. */
export function writeClaim(ctx: CommandContext, claim: NewClaim): string {
  const id = ctx.newId();
  const until = minutesLater(claim.at, claim.minutes);
  insertClaim(ctx.db, {
    id,
    build_id: claim.buildId,
    buyer_id: claim.buyerId,
    release_id: claim.release?.id ?? null,
    kind: claim.kind,
    by_rule: claim.byRule,
    from_at: claim.at,
    until_at: until,
    ended_at: null,
    outcome: null,
    note: claim.note,
  });
  if (claim.release !== undefined) {
    const rule = { early: 'Early window', lot: 'By the draw', public: 'Open to all', '': '' }[claim.byRule];
    const detail = [`${rule}; until ${instantWords(ctx.clock, until)}.`, claim.note].filter(
      (part) => part !== '',
    );
    writeLog(ctx, {
      releaseId: claim.release.id,
      at: claim.at,
      what: claim.kind,
      buildId: claim.buildId,
      buyerId: claim.buyerId,
      detail: detail.join(' '),
    });
  }
  return id;
}

/** @throws FaultError when somebody has the knife at an instant, or had it at some time until the hold would end */
function demandUnclaimed(
  ctx: CommandContext,
  wish: { buildId: string; buyerId: string; at: string; until: string },
): void {
  const { clock } = ctx;
  for (const other of claimsOfBuilds(ctx.db, [wish.buildId])) {
    const end = other.ended_at ?? other.until_at;
    if (end <= wish.at || other.from_at >= wish.until) continue;
    if (other.outcome === 'freed' || other.outcome === 'declined') continue;
    const whose = other.buyer_id === wish.buyerId ? 'them already' : other.buyer_name;
    const what = other.kind === 'held' ? 'held for' : 'offered to';
    throw refused(
      `${other.serial} is ${what} ${whose}, since ${instantWords(clock, other.from_at)} and until ${instantWords(clock, end)}. Who was written down first has it.`,
      'buildId',
    );
  }
}

function demandOneHold(ctx: CommandContext, buyerId: string, at: string): void {
  const other = heldBy(ctx.db, buyerId, at);
  if (!other) return;
  throw refused(
    `${other.buyer_name} has ${other.serial} held until ${instantWords(ctx.clock, other.until_at)} already. It is one hold for each person.`,
    'buyerId',
  );
}

function demandFinished(db: ReadDb, buildId: string): void {
  const build = needBuild(db, buildId);
  if (build.state !== 'finished') {
    const how = build.state === 'sold' ? 'is sold' : 'is not finished';
    throw refused(`${build.serial} ${how}. Only a finished knife that is for sale can be held.`, 'buildId');
  }
  const order = openOrderOf(db, buildId);
  if (order)
    throw refused(`${build.serial} is promised to order ${String(order.number)}. Choose another.`, 'buildId');
}

/** Holds a knife for one person, now or since an earlier instant. */
export const hold: HandlerFor<'releases.hold'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const at = momentOf(ctx.clock, input.at);
    demandFinished(ctx.db, input.buildId);
    needPerson(ctx.db, input.buyerId);
    const release = releaseOfBuild(ctx.db, input.buildId);
    const minutes = input.minutes ?? release?.hold_minutes ?? USUAL_HOLD;
    closeLapsed(ctx, input.buildId, at);
    demandUnclaimed(ctx, { ...input, at, until: minutesLater(at, minutes) });
    demandOneHold(ctx, input.buyerId, at);
    const byRule = release === undefined ? '' : demandMayHave(ctx, release, { ...input, at });
    const { buildId, buyerId, note } = input;
    return answer(
      ctx,
      writeClaim(ctx, { buildId, buyerId, release, kind: 'held', byRule, at, minutes, note }),
    );
  },
};

/** Ends a hold or an offer before its hour. */
export const free: HandlerFor<'releases.free'> = {
  run(ctx, input) {
    const row = claimRow(ctx.db, input.claimId);
    if (!row) throw missing('This hold is not in the books. Load the page again.');
    const told = momentOf(ctx.clock, input.at);
    // A machine whose clock was set back must not make a hold end before it began.
    const at = input.at === undefined && told < row.from_at ? row.from_at : told;
    if (row.ended_at !== null) throw refused('This hold is over already. Load the page again.');
    if (row.until_at <= at)
      throw refused(
        `This hold ran out by itself on ${instantWords(ctx.clock, row.until_at)}; the knife is free.`,
      );
    if (at < row.from_at) throw invalid('It was not held by then. Give a later time.', 'at');
    const note = [row.note, input.note].filter((part) => part !== '').join(' · ');
    endClaim(ctx.db, row.id, { ended_at: at, outcome: input.as, note });
    if (row.release_id !== null) {
      const { build_id: buildId, buyer_id: buyerId, release_id: releaseId } = row;
      writeLog(ctx, { releaseId, at, what: input.as, buildId, buyerId, detail: input.note });
    }
    return answer(ctx, row.id);
  },
};

/** Claims that run now. */
export const running: HandlerFor<'releases.running'> = (ctx) => {
  const now = ctx.clock.now();
  return runningClaims(ctx.db, now).map((row) => toClaim(row, now));
};

/** What stands on one knife: its release and the claim that runs. */
export const ofBuild: HandlerFor<'releases.ofBuild'> = (ctx, { buildId }) => {
  const now = ctx.clock.now();
  const release = lastReleaseOfBuild(ctx.db, buildId);
  const claim = unendedClaim(ctx.db, buildId);
  return {
    release:
      release === undefined
        ? null
        : {
            id: release.id,
            tag: releaseTagOf(release.number),
            title: release.title,
            phase: phaseAt(ctx, release),
          },
    claim: claim !== undefined && runsAt(claim, now) ? toClaim(claim, now) : null,
    asked: askedFor(ctx.db, buildId) ?? null,
  };
};

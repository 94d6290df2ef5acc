/** Names in the hat, the draw anyone can run again, and whose turn it is. */
import { createHash } from 'node:crypto';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { Claim, ReleaseEntry } from '../../api/releases.ts';
import { householdOf } from '../../domain/releases.ts';
import {
  type ClaimRecord,
  claimRow,
  entryRow,
  type EntryRecord,
  entryRows,
  insertDraw,
  insertEntry,
  withdrawEntry,
} from '../../storage/queries/claims.ts';
import type { ReleaseRecord } from '../../storage/queries/releases.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { closeLapsed, toClaim, writeClaim } from './claims.ts';
import {
  type Drawn,
  goesByDraw,
  hasAnother,
  hatFor,
  namesLeft,
  runsAt,
  type Standing,
  standingOf,
} from './hat.ts';
import { writeLog } from './log.ts';
import { instantWords, momentOf, needPerson, needSet } from './need.ts';
import { demandEarly } from './rules.ts';

/** A name in the hat as the contract answers it. */
export const toEntry = (row: EntryRecord): ReleaseEntry => ({
  id: row.id,
  number: row.number,
  buyerId: row.buyer_id,
  buyerName: row.buyer_name,
  buildId: row.build_id,
  serial: row.serial,
  at: row.at,
  withdrawnAt: row.withdrawn_at,
});

function needLot(ctx: CommandContext, id: string): ReleaseRecord {
  const release = needSet(ctx.db, id);
  if (release.rule !== 'lot') throw refused('In this release who comes first buys; there is no hat.');
  return release;
}

/** @throws FaultError when the person, or another of the same household, is in the hat for the same knife */
function demandOnce(standing: Standing, person: ReturnType<typeof needPerson>, buildId: string | null): void {
  const household = householdOf(person);
  const same = standing.entries.find(
    (entry) =>
      entry.withdrawn_at === null &&
      (buildId === null || entry.build_id === null || entry.build_id === buildId) &&
      (entry.buyer_id === person.id || (household !== '' && householdOf(entry) === household)),
  );
  if (!same) return;
  throw refused(
    same.buyer_id === person.id
      ? `${person.name} is in the hat already, as number ${String(same.number)}.`
      : `${same.buyer_name} of the same address is in the hat already, as number ${String(same.number)}. It is one name for each household.`,
    'buyerId',
  );
}

/** Puts a name in the hat. */
export const enter: HandlerFor<'releases.enter'> = {
  run(ctx, { id, buyerId, buildId, at: told }) {
    const release = needLot(ctx, id);
    const at = momentOf(ctx.clock, told);
    const person = needPerson(ctx.db, buyerId);
    if (at < release.early_from)
      throw refused(`Names go in from ${instantWords(ctx.clock, release.early_from)} on.`, 'at');
    if (at >= release.early_until)
      throw refused(`The hat was closed on ${instantWords(ctx.clock, release.early_until)}.`, 'at');
    const standing = standingOf(ctx.db, release);
    if (standing.draws.length > 0) throw refused('The draw is done; no name can go in any more.');
    if (
      buildId !== null &&
      !standing.knives.some((knife) => knife.build_id === buildId && knife.withdrawn_on === null)
    )
      throw invalid('This knife is not in the release. Choose another.', 'buildId');
    demandEarly(ctx, release, buyerId, at);
    demandOnce(standing, person, buildId);
    const row = {
      id: ctx.newId(),
      release_id: id,
      build_id: buildId,
      number: (standing.entries.at(-1)?.number ?? 0) + 1,
      buyer_id: buyerId,
      at,
      withdrawn_at: null,
    };
    insertEntry(ctx.db, row);
    writeLog(ctx, {
      releaseId: id,
      at,
      what: 'entered',
      buildId,
      buyerId,
      detail: `Number ${String(row.number)}.`,
    });
    const entry = entryRows(ctx.db, id).find((each) => each.id === row.id);
    if (!entry) throw missing('This name is not in the books. Load the page again.');
    return toEntry(entry);
  },
};

/** Takes a name out of the hat before the draw. */
export const leave: HandlerFor<'releases.leave'> = {
  run(ctx, { entryId, at: told }) {
    const entry = entryRow(ctx.db, entryId);
    if (!entry) throw missing('This name is not in the books. Load the page again.');
    const release = needLot(ctx, entry.release_id);
    if (entry.withdrawn_at !== null) throw refused('This name was taken out already.');
    if (standingOf(ctx.db, release).draws.length > 0)
      throw refused('The draw is done. Say that an offer was declined instead.');
    const at = momentOf(ctx.clock, told);
    withdrawEntry(ctx.db, entryId, at);
    writeLog(ctx, {
      releaseId: entry.release_id,
      at,
      what: 'entryWithdrawn',
      buildId: entry.build_id,
      buyerId: entry.buyer_id,
      detail: `Number ${String(entry.number)}.`,
    });
    return null;
  },
};

/**
 * Orders names by a seed: SHA-256 of `seed:number` in UTF-8, written as hexadecimal, lowest first.
 * Anyone with the seed and the numbers comes to the same order.
 */
const drawOrder = (
  seed: string,
  names: readonly { readonly number: number; readonly buyerId: string }[],
): readonly Drawn[] =>
  names
    .map(({ number, buyerId }) => ({
      number,
      buyerId,
      hash: createHash('sha256')
        .update(`${seed}:${String(number)}`, 'utf8')
        .digest('hex'),
    }))
    .sort((a, b) => (a.hash < b.hash ? -1 : a.hash > b.hash ? 1 : a.number - b.number));

/** Passes over those ahead who have another knife, and writes that down. */
function passOver(
  ctx: CommandContext,
  standing: Standing,
  buildId: string,
  next: Drawn | undefined,
  at: string,
): void {
  const draw = standing.draws.find((each) => each.buildId === buildId);
  if (draw === undefined || standing.release.one_each !== 1) return;
  const asked = new Set(
    standing.claims
      .filter((claim) => claim.build_id === buildId && claim.kind === 'offered')
      .map((claim) => claim.buyer_id),
  );
  const from = draw.outcome.findLastIndex((name) => asked.has(name.buyerId)) + 1;
  const to = next === undefined ? draw.outcome.length : draw.outcome.indexOf(next);
  for (const name of draw.outcome.slice(from, to)) {
    if (!hasAnother(standing, name.buyerId, buildId, at)) continue;
    writeLog(ctx, {
      releaseId: standing.release.id,
      at,
      what: 'passedOver',
      buildId,
      buyerId: name.buyerId,
      detail: `Number ${String(name.number)} has another knife of this release.`,
    });
  }
}

function offerNext(
  ctx: CommandContext,
  release: ReleaseRecord,
  buildId: string,
  at: string,
): string | undefined {
  const standing = standingOf(ctx.db, release);
  const next = namesLeft(standing, buildId, at)[0];
  passOver(ctx, standing, buildId, next, at);
  if (next === undefined) return undefined;
  return writeClaim(ctx, {
    buildId,
    buyerId: next.buyerId,
    release,
    kind: 'offered',
    byRule: 'lot',
    at,
    minutes: release.hold_minutes,
    note: `Number ${String(next.number)} of the draw.`,
  });
}

/** Draws every knife that has names in the hat, each with a seed of its own, and offers it to the first. */
export const draw: HandlerFor<'releases.draw'> = {
  run(ctx, { id, seed: given, at: told }) {
    const release = needLot(ctx, id);
    const at = momentOf(ctx.clock, told);
    if (at < release.early_until)
      throw refused(
        `Names can still go in until ${instantWords(ctx.clock, release.early_until)}. Draw after that.`,
      );
    const standing = standingOf(ctx.db, release);
    const drawn = new Set(standing.draws.map((each) => each.buildId));
    const open = standing.knives.filter(
      (knife) => !drawn.has(knife.build_id) && goesByDraw(standing, knife.build_id, at),
    );
    if (open.length === 0)
      throw refused('There is nothing to draw: no names are in the hat, or all was drawn.');
    let offered = 0;
    for (const knife of open) {
      const seed = given === '' ? ctx.newId() : `${given} ${knife.serial}`;
      const names = hatFor(standing, knife.build_id).map((entry) => ({
        number: entry.number,
        buyerId: entry.buyer_id,
      }));
      const outcome = drawOrder(seed, names);
      const buildId = knife.build_id;
      insertDraw(ctx.db, {
        id: ctx.newId(),
        release_id: id,
        build_id: buildId,
        at,
        seed,
        outcome: JSON.stringify(outcome),
      });
      const order = outcome.map((name) => String(name.number)).join(', ');
      const how = given === '' ? 'by chance' : 'agreed beforehand';
      const detail = `Seed “${seed}” (${how}). Order of SHA-256 of seed:number: ${order}.`;
      writeLog(ctx, { releaseId: id, at, what: 'drawn', buildId, detail });
      if (offerNext(ctx, release, buildId, at) !== undefined) offered += 1;
    }
    return { drawn: open.length, offered };
  },
};

const claimAnswer = (ctx: CommandContext, row: ClaimRecord | undefined): Claim | null =>
  row === undefined ? null : toClaim(row, ctx.clock.now());

/** Offers a drawn knife to the next name; null when none is left and the knife is open to all. */
export const next: HandlerFor<'releases.next'> = {
  run(ctx, { id, buildId, at: told }) {
    const release = needLot(ctx, id);
    const at = momentOf(ctx.clock, told);
    closeLapsed(ctx, buildId, at);
    const standing = standingOf(ctx.db, release);
    const knife = standing.knives.find((each) => each.build_id === buildId);
    if (knife?.withdrawn_on !== null) throw invalid('This knife is not in the release.', 'buildId');
    if (knife.build_state !== 'finished')
      throw refused(`${knife.serial} is not for sale any more.`, 'buildId');
    if (!standing.draws.some((each) => each.buildId === buildId))
      throw refused(`${knife.serial} was not drawn yet. Draw first.`, 'buildId');
    const running = standing.claims.find((claim) => claim.build_id === buildId && runsAt(claim, at));
    if (running) {
      throw refused(
        `${knife.serial} is offered to ${running.buyer_name} until ${instantWords(ctx.clock, running.until_at)}. Wait for the answer, or say that it was declined.`,
        'buildId',
      );
    }
    const claimId = offerNext(ctx, release, buildId, at);
    return claimAnswer(ctx, claimId === undefined ? undefined : claimRow(ctx.db, claimId));
  },
};

/** What a release asks of a sale, and what it remembers of it. */
import { refused } from '../../api/errors.ts';
import { formatMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type ClaimRecord, endClaim, insertClaim, unendedClaim } from '../../storage/queries/claims.ts';
import {
  markSaleReleased,
  releaseOfBuild,
  type ReleaseRecord,
  releasedSale,
} from '../../storage/queries/releases.ts';
import type { Clock, CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { minutesLater } from '../hours/instants.ts';
import { closeLapsed } from './claims.ts';
import { writeLog } from './log.ts';
import { instantWords } from './need.ts';
import { type ByRule, demandMayHave } from './rules.ts';

/** A sale that is about to be booked. */
export interface WantedSale {
  readonly buildId: string;
  readonly buyerId: string;
  /** Local day of the sale. */
  readonly on: string;
}

interface Asking {
  readonly db: ReadDb;
  readonly clock: Clock;
}

/** The claim on a knife, where it still ran on the day of a sale. */
function claimOn(
  { db, clock }: Asking,
  { buildId, on }: Pick<WantedSale, 'buildId' | 'on'>,
): ClaimRecord | undefined {
  const claim = unendedClaim(db, buildId);
  if (claim === undefined) return undefined;
  const now = clock.now();
  const runs =
    on === clock.today()
      ? claim.until_at > now
      : clock.localDay(claim.from_at) <= on && clock.localDay(claim.until_at) >= on;
  return runs ? claim : undefined;
}

const whoHas = ({ clock }: Asking, claim: ClaimRecord): string =>
  `${claim.serial} is ${claim.kind === 'held' ? 'held for' : 'offered to'} ${claim.buyer_name} until ${instantWords(clock, claim.until_at)}`;

/** @throws FaultError `refused` while somebody has the knife held or offered: nothing else may become of it then */
export function demandNobodyHas(ctx: Asking, buildId: string): void {
  const claim = claimOn(ctx, { buildId, on: ctx.clock.today() });
  if (claim !== undefined)
    throw refused(`${whoHas(ctx, claim)}. Free it in First look first, and tell them.`);
}

/** Some instant of a local day, wherever the workshop is: noon of universal time, or of the day before it. */
function instantOn(clock: Clock, on: string): string {
  const noon = `${on}T12:00:00.000Z`;
  return clock.localDay(noon) === on ? noon : `${on}T00:00:00.000Z`;
}

/**
 * The instant that decides about a sale: now, or for a day gone by some instant of it.
 * @throws FaultError when the window opened or closed on that day, so that the day alone does not say enough
 */
function momentOfSale({ clock }: Asking, release: ReleaseRecord, on: string): string {
  if (on === clock.today()) return clock.now();
  const turning = [release.early_from, release.early_until].find((instant) => clock.localDay(instant) === on);
  if (turning !== undefined) {
    throw refused(
      `The early window turned on that day, at ${clock.localTime(turning)}. Write down in First look when this buyer asked for the knife, then book the sale.`,
      'on',
    );
  }
  return instantOn(clock, on);
}

/**
 * Lets a sale through, or says why the release or a hold stands in its way. Writes nothing; a knife of no release and
 * without a hold always passes.
 * @throws FaultError `refused` with the field `buyerId`, `buildId` or `on`
 */
export function admitSale(ctx: Asking, sale: WantedSale): void {
  const claim = claimOn(ctx, sale);
  if (claim !== undefined && claim.buyer_id !== sale.buyerId)
    throw refused(`${whoHas(ctx, claim)}. Wait until then, or free it in First look first.`, 'buyerId');
  const release = releaseOfBuild(ctx.db, sale.buildId);
  if (release === undefined || claim !== undefined) return;
  demandMayHave(ctx, release, { ...sale, at: momentOfSale(ctx, release, sale.on) });
}

/** Ends the buyer's own claim as sold, or writes one that began and ended with the sale. */
function settleClaim(
  ctx: CommandContext,
  sale: WantedSale,
  release: ReleaseRecord | undefined,
): { readonly at: string; readonly byRule: ByRule | '' } | undefined {
  const own = claimOn(ctx, sale);
  if (own !== undefined) {
    const day = sale.on === ctx.clock.today() ? ctx.clock.now() : instantOn(ctx.clock, sale.on);
    endClaim(ctx.db, own.id, { ended_at: day < own.from_at ? own.from_at : day, outcome: 'sold' });
    return { at: own.from_at, byRule: own.by_rule as ByRule };
  }
  if (release === undefined) return undefined;
  const at = momentOfSale(ctx, release, sale.on);
  closeLapsed(ctx, sale.buildId, at);
  const byRule = demandMayHave(ctx, release, { ...sale, at });
  insertClaim(ctx.db, {
    id: ctx.newId(),
    build_id: sale.buildId,
    buyer_id: sale.buyerId,
    release_id: release.id,
    kind: 'held',
    by_rule: byRule,
    from_at: at,
    until_at: minutesLater(at, 1),
    ended_at: at,
    outcome: 'sold',
    note: 'Bought at once.',
  });
  return { at, byRule };
}

/** Ends what still runs on a knife that was sold on a day before it was held: nobody can have it any more. */
function endMoot(ctx: CommandContext, sale: WantedSale): void {
  const claim = unendedClaim(ctx.db, sale.buildId);
  const now = ctx.clock.now();
  if (claim === undefined || claim.until_at <= now) return;
  const at = now < claim.from_at ? claim.from_at : now;
  const own = claim.buyer_id === sale.buyerId;
  endClaim(ctx.db, claim.id, { ended_at: at, outcome: own ? 'sold' : 'freed' });
  if (own || claim.release_id === null) return;
  writeLog(ctx, {
    releaseId: claim.release_id,
    at,
    what: 'freed',
    buildId: sale.buildId,
    buyerId: claim.buyer_id,
    detail: `Sold on ${sale.on}, before it was held.`,
  });
}

const ruleWords: Readonly<Record<ByRule | '', string>> = {
  early: 'In the early window',
  lot: 'By the draw',
  public: 'Open to all',
  '': 'Sold',
};

/** Remembers a sale that was just written: its release, the end of a hold, a line in the fairness log. */
export function noteSale(ctx: CommandContext, sale: WantedSale & { readonly saleId: string }): void {
  const release = releaseOfBuild(ctx.db, sale.buildId);
  const settled = settleClaim(ctx, sale, release);
  endMoot(ctx, sale);
  if (release === undefined || settled === undefined) return;
  const { currency } = houseOf(ctx.db);
  markSaleReleased(ctx.db, sale.saleId, release.id);
  const row = releasedSale(ctx.db, sale.saleId);
  const price = row === undefined ? '' : ` for ${formatMinor(row.price_minor, currency)}`;
  const other =
    row !== undefined && row.asked_minor !== null && row.asked_minor !== row.price_minor
      ? ` (asked ${formatMinor(row.asked_minor, currency)})`
      : '';
  writeLog(ctx, {
    releaseId: release.id,
    at: settled.at,
    what: 'sold',
    buildId: sale.buildId,
    buyerId: sale.buyerId,
    detail: `${ruleWords[settled.byRule]}${price}${other}.`,
  });
}

/** Remembers that a sold knife came back: it is free again where its release still runs. */
export function noteReturn(ctx: CommandContext, saleId: string, reason: string): void {
  const row = releasedSale(ctx.db, saleId);
  if (row?.release_id == null) return;
  writeLog(ctx, {
    releaseId: row.release_id,
    at: ctx.clock.now(),
    what: 'broughtBack',
    buildId: row.build_id,
    buyerId: row.buyer_id,
    detail: reason,
  });
}

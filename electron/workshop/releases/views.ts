/** Releases as the contract answers them. */
import type {
  LogLine,
  LogWhat,
  ReleaseDetail,
  ReleaseDraw,
  ReleaseKnife,
  ReleaseRow,
  ReleaseRule,
} from '../../api/releases.ts';
import { measureRelease, nextInstant, type ReleaseMeasures } from '../../domain/releases.ts';
import { firstPhotos } from '../../storage/queries/builds.ts';
import {
  logRows,
  type ReleaseKnifeRecord,
  releaseRows,
  releaseTagOf,
} from '../../storage/queries/releases.ts';
import { candidateRows } from '../../storage/queries/releases.ts';
import type { QueryContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { millisecondsBetween } from '../hours/instants.ts';
import { toClaim } from './claims.ts';
import { keyFigures } from './figures.ts';
import { hatFor, namesLeft, runsAt, type Standing, standingOf } from './hat.ts';
import { toEntry } from './lot.ts';
import { earlyGroup } from './move.ts';
import { needRelease } from './need.ts';
import { phaseIn } from './phase.ts';
import { whyNot } from './releasable.ts';
import { groupName } from './rules.ts';

/** The sale of a knife in its release; the moment is that of the claim it ended. */
function saleOf(standing: Standing, knife: ReleaseKnifeRecord): ReleaseKnife['sale'] {
  if (knife.sale_id === null || knife.buyer_id === null) return null;
  const claim = standing.claims.findLast(
    (each) => each.build_id === knife.build_id && each.buyer_id === knife.buyer_id && each.outcome === 'sold',
  );
  return {
    saleId: knife.sale_id,
    buyerId: knife.buyer_id,
    buyerName: knife.buyer_name ?? '',
    at: claim?.from_at ?? standing.release.early_until,
    priceMinor: knife.sold_minor ?? 0,
    early: claim !== undefined && claim.by_rule !== 'public',
  };
}

const minutesAfter = (from: string, to: string): number => Math.round(millisecondsBetween(from, to) / 60_000);

const measuresOf = (standing: Standing, now: string): ReleaseMeasures => {
  const { early_from: opened } = standing.release;
  const knives = standing.knives.map((knife) => {
    const sale = saleOf(standing, knife);
    return {
      priceMinor: knife.price_minor,
      sold: sale && {
        minutes: minutesAfter(opened, sale.at),
        priceMinor: sale.priceMinor,
        early: sale.early,
      },
      withdrawn: knife.withdrawn_on !== null,
    };
  });
  return measureRelease(knives, minutesAfter(opened, now));
};

function toRow(ctx: QueryContext, standing: Standing): ReleaseRow {
  const { release } = standing;
  return {
    id: release.id,
    number: release.number,
    tag: releaseTagOf(release.number),
    title: release.title,
    phase: phaseIn(ctx, standing),
    rule: release.rule as ReleaseRule,
    previewOn: release.preview_on,
    earlyFrom: release.early_from,
    earlyUntil: release.early_until,
    measures: measuresOf(standing, ctx.clock.now()),
  };
}

/** Every release with how it went, the newest on top. */
export const list: HandlerFor<'releases.list'> = (ctx) =>
  releaseRows(ctx.db).map((release) => toRow(ctx, standingOf(ctx.db, release)));

function knifeState(knife: ReleaseKnifeRecord, kind: 'held' | 'offered' | undefined): ReleaseKnife['state'] {
  if (knife.withdrawn_on !== null) return 'withdrawn';
  if (knife.sale_id !== null) return 'sold';
  if (knife.build_state !== 'finished') return 'gone';
  return kind ?? 'free';
}

function toKnives(ctx: QueryContext, standing: Standing): ReleaseKnife[] {
  const now = ctx.clock.now();
  const ids = standing.knives.map((knife) => knife.build_id);
  const photos = new Map(firstPhotos(ctx.db, ids).map((photo) => [photo.owner_id, photo.id]));
  const figures = keyFigures(ctx.db, ids);
  return standing.knives.map((knife) => {
    const running = standing.claims.find((claim) => claim.build_id === knife.build_id && runsAt(claim, now));
    const claim = running === undefined ? null : toClaim(running, now);
    const drawn = standing.draws.some((draw) => draw.buildId === knife.build_id);
    return {
      buildId: knife.build_id,
      serial: knife.serial,
      title: knife.title === '' ? knife.model_name : knife.title,
      modelName: knife.model_name,
      priceMinor: knife.price_minor,
      shippingMinor: knife.shipping_minor,
      words: knife.words,
      flaw: knife.flaw,
      photoId: photos.get(knife.build_id) ?? null,
      state: knifeState(knife, claim?.kind),
      claim,
      sale: saleOf(standing, knife),
      figures: figures.get(knife.build_id)?.map(({ label, text }) => ({ label, text })) ?? [],
      names: standing.release.rule === 'lot' ? hatFor(standing, knife.build_id).length : 0,
      namesLeft: drawn ? namesLeft(standing, knife.build_id, now).length : null,
    };
  });
}

function toDraws(standing: Standing, now: string): ReleaseDraw[] {
  const nameOf = new Map(standing.entries.map((entry) => [entry.buyer_id, entry.buyer_name]));
  return standing.draws.map((draw) => {
    const claims = standing.claims.filter(
      (claim) => claim.build_id === draw.buildId && claim.kind === 'offered',
    );
    const last = draw.outcome.findLastIndex((name) =>
      claims.some((claim) => claim.buyer_id === name.buyerId),
    );
    return {
      id: draw.id,
      buildId: draw.buildId,
      serial: draw.serial,
      at: draw.at,
      seed: draw.seed,
      outcome: draw.outcome.map((name, at) => {
        const claim = claims.find((each) => each.buyer_id === name.buyerId);
        const asked = claim === undefined ? null : runsAt(claim, now) ? 'open' : toClaim(claim, now).outcome;
        return {
          ...name,
          buyerName: nameOf.get(name.buyerId) ?? '',
          asked: claim === undefined && at < last ? 'passed over' : asked,
        };
      }),
    };
  });
}

/** One release with everything that stands in it. */
export const get: HandlerFor<'releases.get'> = (ctx, { id }): ReleaseDetail => {
  const release = needRelease(ctx.db, id);
  const standing = standingOf(ctx.db, release);
  const now = ctx.clock.now();
  const today = ctx.clock.today();
  const groupOn = release.preview_on !== null && release.preview_on < today ? release.preview_on : today;
  return {
    ...toRow(ctx, standing),
    note: release.note,
    state: release.state as ReleaseDetail['state'],
    leastRank: release.least_rank,
    groupName: groupName(ctx.db, release.least_rank),
    groupCount: earlyGroup(ctx, release, groupOn).length,
    groupOn,
    oneEach: release.one_each === 1,
    holdMinutes: release.hold_minutes,
    nextAt: nextInstant(
      {
        state: release.state,
        previewOn: release.preview_on,
        earlyFrom: release.early_from,
        earlyUntil: release.early_until,
      },
      now,
    ),
    knives: toKnives(ctx, standing),
    entries: standing.entries.map(toEntry),
    draws: toDraws(standing, now),
    log: logRows(ctx.db, id).map((row): LogLine => ({
      seq: row.seq,
      at: row.at,
      what: row.what as LogWhat,
      serial: row.serial,
      buyerName: row.buyer_name,
      detail: row.detail,
    })),
  };
};

/** Finished knives nobody bought, and why some of them cannot be released. */
export const candidates: HandlerFor<'releases.candidates'> = (ctx, { releaseId }) => {
  const rows = candidateRows(ctx.db, ctx.clock.today());
  const photos = new Map(
    firstPhotos(
      ctx.db,
      rows.map((row) => row.id),
    ).map((photo) => [photo.owner_id, photo.id]),
  );
  return rows.map((row) => ({
    buildId: row.id,
    serial: row.serial,
    title: row.title === '' ? row.model_name : row.title,
    modelName: row.model_name,
    finishedOn: row.finished_on,
    listPriceMinor: row.list_minor,
    shippingMinor: row.shipping_minor,
    flaw: row.flaw,
    photoId: photos.get(row.id) ?? null,
    taken: whyNot(ctx.db, row.id, releaseId),
  }));
};

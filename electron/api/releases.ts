/** Contract of First look: releases, previews, windows, holds, draws. */
import { z } from 'zod';
import type { ReleaseMeasures, ReleasePhase } from '../domain/releases.ts';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** `first`: who comes first buys. `lot`: a draw gives the right to buy. */
const releaseRules = ['first', 'lot'] as const;
export type ReleaseRule = (typeof releaseRules)[number];

export interface ReleaseRow {
  readonly id: string;
  readonly number: number;
  /** E.g. "R2". */
  readonly tag: string;
  readonly title: string;
  readonly phase: ReleasePhase;
  readonly rule: ReleaseRule;
  readonly previewOn: string | null;
  readonly earlyFrom: string;
  readonly earlyUntil: string;
  readonly measures: ReleaseMeasures;
}

/** A knife kept for one person until an hour. */
export interface Claim {
  readonly id: string;
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly buyerId: string;
  readonly buyerName: string;
  readonly releaseId: string | null;
  readonly releaseTag: string | null;
  readonly kind: 'held' | 'offered';
  readonly fromAt: string;
  readonly untilAt: string;
  /** Runs now: neither ended nor past its hour. */
  readonly open: boolean;
  readonly outcome: 'sold' | 'lapsed' | 'declined' | 'freed' | null;
  readonly note: string;
}

export interface ReleaseKnife {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly modelName: string;
  readonly priceMinor: number;
  readonly shippingMinor: number;
  readonly words: string;
  /** Not empty: sold as a second, with this flaw stated. */
  readonly flaw: string;
  readonly photoId: string | null;
  /** `gone`: sold outside of the release, or no longer finished. */
  readonly state: 'free' | 'held' | 'offered' | 'sold' | 'withdrawn' | 'gone';
  readonly claim: Claim | null;
  readonly sale: {
    readonly saleId: string;
    readonly buyerId: string;
    readonly buyerName: string;
    /** When the buyer's word came. */
    readonly at: string;
    readonly priceMinor: number;
    readonly early: boolean;
  } | null;
  /** Label and text: steel, handle, hardness, edge, weight. */
  readonly figures: readonly { readonly label: string; readonly text: string }[];
  /** Names in the hat for it, and how many of those drawn were not asked yet; null before its draw. */
  readonly names: number;
  readonly namesLeft: number | null;
}

/** A name in the hat. */
export interface ReleaseEntry {
  readonly id: string;
  /** Place in the hat, from 1. */
  readonly number: number;
  readonly buyerId: string;
  readonly buyerName: string;
  /** Null: for any knife of the release. */
  readonly buildId: string | null;
  readonly serial: string | null;
  readonly at: string;
  readonly withdrawnAt: string | null;
}

/** A draw as anyone can run it again: entries ordered by SHA-256 of `seed:number`, as hex text, lowest first. */
export interface ReleaseDraw {
  readonly id: string;
  readonly buildId: string;
  readonly serial: string;
  readonly at: string;
  readonly seed: string;
  readonly outcome: readonly {
    readonly number: number;
    readonly buyerId: string;
    readonly buyerName: string;
    readonly hash: string;
    readonly asked: Claim['outcome'] | 'open' | 'passed over' | null;
  }[];
}

/** What the fairness log says, in words. */
export type LogWhat =
  | 'set'
  | 'changed'
  | 'backToDraft'
  | 'told'
  | 'withdrawn'
  | 'held'
  | 'offered'
  | 'lapsed'
  | 'declined'
  | 'freed'
  | 'sold'
  | 'broughtBack'
  | 'entered'
  | 'entryWithdrawn'
  | 'drawn'
  | 'passedOver'
  | 'ended'
  | 'dropped';

export interface LogLine {
  readonly seq: number;
  readonly at: string;
  readonly what: LogWhat;
  readonly serial: string | null;
  readonly buyerName: string | null;
  readonly detail: string;
}

export interface ReleaseDetail extends ReleaseRow {
  readonly note: string;
  readonly state: 'draft' | 'set' | 'ended' | 'dropped';
  readonly leastRank: number;
  /** Name of the lowest level of the early group. */
  readonly groupName: string;
  /** People of the early group on the day of the preview, or today before it. */
  readonly groupCount: number;
  readonly groupOn: string;
  readonly oneEach: boolean;
  readonly holdMinutes: number;
  /** The next instant at which it changes by itself. */
  readonly nextAt: string | null;
  readonly knives: readonly ReleaseKnife[];
  readonly entries: readonly ReleaseEntry[];
  readonly draws: readonly ReleaseDraw[];
  readonly log: readonly LogLine[];
}

/** A finished knife that could go into a release. */
export interface Candidate {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly modelName: string;
  readonly finishedOn: string | null;
  readonly listPriceMinor: number | null;
  /** What was last charged for sending one of its model; null before the first. */
  readonly shippingMinor: number | null;
  readonly flaw: string;
  readonly photoId: string | null;
  /** Why it cannot be released; null when it can. */
  readonly taken: string | null;
}

/** The words to the early group and whom they go to. Nothing is sent. */
export interface EarlyMessage {
  readonly subject: string;
  readonly text: string;
  readonly people: readonly { readonly name: string; readonly email: string; readonly level: string }[];
  readonly withoutMail: number;
  /** Opens the person's own mail program; null when the list is too long for an address of that kind. */
  readonly mailto: string | null;
}

const at = f.isoInstant.optional();

/** Every call of First look: releases, previews, windows, holds, draws. */
export const releaseEndpoints = {
  'releases.list': query(z.strictObject({}))<readonly ReleaseRow[]>(),
  'releases.get': query(z.strictObject({ id: f.id }))<ReleaseDetail>(),
  /** Finished knives that are not sold; those of the release named may stay in it. */
  'releases.candidates': query(z.strictObject({ releaseId: f.id.optional() }))<readonly Candidate[]>(),
  /** A draft is written over whole; of a release that is set only what is fair is changed, and the log says so. */
  'releases.save': command(
    z.strictObject({
      id: f.id.optional(),
      title: f.requiredText,
      note: f.longText.default(''),
      rule: z.enum(releaseRules).default('first'),
      leastRank: z.int().min(0).max(1_000_000).default(1),
      oneEach: z.boolean().default(true),
      holdMinutes: z
        .int('Write how long a hold lasts, for example 24 h.')
        .min(1, 'A hold must last at least a minute.')
        .max(60 * 24 * 60, 'A hold cannot last longer than sixty days.'),
      previewOn: f.isoDate.nullable().default(null),
      earlyFrom: f.isoInstant,
      earlyUntil: f.isoInstant,
      knives: z
        .array(
          z.strictObject({
            buildId: f.id,
            priceMinor: f.minorPositive,
            shippingMinor: f.minorPositive,
            words: f.longText.default(''),
          }),
        )
        .max(200)
        .default([]),
      /** Why, when the release is set already. */
      reason: f.shortText.default(''),
    }),
  )<{ readonly id: string }>(),
  'releases.move': command(
    z.strictObject({
      id: f.id,
      to: z.enum(['set', 'draft', 'ended', 'dropped']),
      reason: f.shortText.default(''),
      at,
    }),
  )<null>(),
  'releases.withdraw': command(
    z.strictObject({ id: f.id, buildId: f.id, reason: f.requiredText, at }),
  )<null>(),
  /** The maker has told the early group; the log keeps when and how many. */
  'releases.told': command(z.strictObject({ id: f.id, at }))<null>(),
  /** Keeps a finished knife for one person, by the rules of its release where it is in one. */
  'releases.hold': command(
    z.strictObject({
      buildId: f.id,
      buyerId: f.id,
      /** Leave out for the release's own length. */
      minutes: z
        .int()
        .min(1)
        .max(60 * 24 * 60)
        .optional(),
      note: f.shortText.default(''),
      at,
    }),
  )<Claim>(),
  'releases.free': command(
    z.strictObject({ claimId: f.id, as: z.enum(['freed', 'declined']), note: f.shortText.default(''), at }),
  )<Claim>(),
  /** The claim that runs on a knife now, and the release it is in. */
  'releases.ofBuild': query(z.strictObject({ buildId: f.id }))<{
    readonly release: Pick<ReleaseRow, 'id' | 'tag' | 'title' | 'phase'> | null;
    readonly claim: Claim | null;
    /** Price and shipping it is shown at, while it is shown. */
    readonly asked: { readonly priceMinor: number; readonly shippingMinor: number } | null;
  }>(),
  /** Claims that run now, the one that ends first on top. */
  'releases.running': query(z.strictObject({}))<readonly Claim[]>(),
  'releases.enter': command(
    z.strictObject({ id: f.id, buyerId: f.id, buildId: f.id.nullable().default(null), at }),
  )<ReleaseEntry>(),
  'releases.leave': command(z.strictObject({ entryId: f.id, at }))<null>(),
  /** Draws every knife that has names in the hat, and offers each to the first. */
  'releases.draw': command(
    z.strictObject({
      id: f.id,
      /** Words or figures agreed beforehand, for all to check; else chance makes them. */
      seed: z.string().trim().max(60, 'Keep the seed under 60 characters.').default(''),
      at,
    }),
  )<{ readonly drawn: number; readonly offered: number }>(),
  /** Offers a drawn knife to the next name, once the one before let it go. */
  'releases.next': command(z.strictObject({ id: f.id, buildId: f.id, at }))<Claim | null>(),
  'releases.message': query(z.strictObject({ id: f.id }))<EarlyMessage>(),
  'releases.previewPdf': query(z.strictObject({ id: f.id }))<FileOut>(),
  /** One file that needs nothing else. Pictures made smaller by the screen go in; the small copies else. */
  'releases.previewPage': query(
    z.strictObject({
      id: f.id,
      pictures: z
        .array(z.strictObject({ buildId: f.id, base64: z.base64().max(600_000) }))
        .max(200)
        .default([]),
    }),
  )<FileOut>(),
} as const;

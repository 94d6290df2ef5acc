/** Contract of answers that have no other place: what an hour brings over time, failures, batches, and more. */
import { z } from 'zod';
import type { Quartiles } from '../domain/next-up.ts';
import { query } from './endpoint.ts';
import * as f from './fields.ts';
import type { WorkKind } from './hours.ts';

/** A month, quarter or year of work and money; amounts in the minor unit. */
export interface HourPeriod {
  /** `2025-07`, `2025 Q3` or `2025`. */
  readonly name: string;
  readonly from: string;
  readonly to: string;
  /** Knives sold, what they left, and the bench time in them, whenever worked. */
  readonly sold: number;
  readonly contributionMinor: number;
  readonly soldMinutes: number;
  readonly perBuildHourMinor: number | null;
  /** Worked in these days: on knives, on makings, on neither. */
  readonly benchMinutes: number;
  readonly makingMinutes: number;
  readonly otherMinutes: number;
  readonly others: readonly { readonly kind: WorkKind; readonly minutes: number }[];
  /** Share of all work that is on no knife and no making, parts per million; null without any work. */
  readonly unpaidPpm: number | null;
  readonly overheadMinor: number;
  /** `expenses` as booked, or bench hours at the `rate` where none are. */
  readonly overheadFrom: 'expenses' | 'rate';
  readonly overheadPerHourMinor: number | null;
  /** Contribution less overhead for each hour worked. */
  readonly perHourWorkedMinor: number | null;
}

/** A knife that was lost. */
export interface LostKnife {
  readonly buildId: string;
  readonly serial: string;
  readonly modelName: string;
  readonly on: string;
  readonly stage: string;
  readonly reason: string;
  readonly costMinor: number;
  readonly minutes: number;
  /** The order it was made for, and by how many days that was delivered after the day first promised. */
  readonly orderId: string | null;
  readonly orderTag: string | null;
  readonly lateDays: number | null;
}

export interface Failures {
  readonly knives: readonly LostKnife[];
  readonly stages: readonly {
    readonly stage: string;
    readonly knives: number;
    readonly costMinor: number;
    readonly minutes: number;
  }[];
  /** Knives ended in these days, lost ones among them. */
  readonly ended: number;
  readonly costMinor: number;
  readonly minutes: number;
  /** What these hours would have earned at what an hour earns now. */
  readonly hoursWorthMinor: number;
  readonly hoursWorthHow: string;
}

/** Batches of one size; paces in parts per million of the usual minutes. */
export interface BatchSize {
  readonly size: number;
  readonly batches: number;
  readonly knives: number;
  readonly pace: Quartiles | null;
  /** With practice divided out by the maker's table of the family. */
  readonly practised: Quartiles | null;
}

/** Own hardening of a blade against sending it out. */
export interface HeatCompare {
  /** Blades hardened in the twelve months the figures come from. */
  readonly blades: number;
  readonly energyMinor: number;
  readonly energyHow: string;
  readonly minutes: number;
  readonly hourMinor: number;
  readonly hourHow: string;
  /** Energy and time of one blade. */
  readonly ownMinor: number;
  /** Cost of blades lost to heat treatment, for each hardened. */
  readonly lossMinor: number;
  readonly lost: number;
  /** Fee, its share of the parcel there and back, and the time to pack it. */
  readonly outMinor: number;
  /** A fee below which sending out is cheaper. */
  readonly evenFeeMinor: number;
}

/** One release with what supporters brought around it. */
export interface SupportRelease {
  readonly releaseId: string;
  readonly tag: string;
  readonly title: string;
  readonly openedOn: string;
  readonly supporters: number;
  /** Knives sold in the early window and what they sold for. */
  readonly soldEarly: number;
  readonly soldEarlyMinor: number;
  readonly earlyContributionMinor: number;
  /** Membership at the levels' prices, before the platform's fee, of the months since the release before. */
  readonly membershipMinor: number;
  readonly months: number;
  /** Content and messages since the release before. */
  readonly minutes: number;
  readonly perHourMinor: number | null;
}

/** Shipping charged against what was paid. */
export interface PostageRow {
  readonly year: string;
  /** `service`: knives sent back after service, anywhere; their postage is part of what the service asks for. */
  readonly where: 'home' | 'abroad' | 'service';
  readonly parcels: number;
  readonly chargedMinor: number;
  readonly paidMinor: number;
  readonly lostMinor: number;
}

interface SomeKnife {
  readonly buildId: string;
  readonly serial: string;
  readonly state: string;
}

export interface Again {
  /** Whoever bought twice or more, the latest first. */
  readonly buyers: readonly {
    readonly buyerId: string;
    readonly name: string;
    readonly knives: number;
    readonly salesMinor: number;
    readonly lastOn: string;
    /** Bought a model of which one is free now. */
    readonly mayLike: readonly SomeKnife[];
  }[];
  /** Wishes and offers with knives of that model that are made for nobody. */
  readonly wishes: readonly {
    readonly orderId: string;
    readonly tag: string;
    readonly buyerId: string;
    readonly buyerName: string;
    readonly modelName: string;
    readonly wish: string;
    readonly askedOn: string;
    readonly knives: readonly SomeKnife[];
  }[];
}

const span = { from: f.isoDate, to: f.isoDate };

/** Every call of these answers. */
export const askedEndpoints = {
  'asked.hours': query(z.strictObject({ by: z.enum(['month', 'quarter', 'year']).default('quarter') }))<
    readonly HourPeriod[]
  >(),
  'asked.failures': query(z.strictObject(span))<Failures>(),
  'asked.batches': query(z.strictObject({}))<readonly BatchSize[]>(),
  'asked.heat': query(
    z.strictObject({
      feeMinor: f.minorPositive.default(0),
      /** A parcel there and back. */
      postageMinor: f.minorPositive.default(0),
      blades: z.int().min(1, 'A parcel holds at least one blade.').max(1000).default(1),
      /** To pack and send one parcel and to look the blades over when they are back. */
      packMinutes: z
        .int()
        .min(0)
        .max(24 * 60)
        .default(0),
    }),
  )<HeatCompare>(),
  'asked.supporters': query(z.strictObject({}))<readonly SupportRelease[]>(),
  'asked.postage': query(z.strictObject({}))<readonly PostageRow[]>(),
  'asked.again': query(z.strictObject({}))<Again>(),
} as const;

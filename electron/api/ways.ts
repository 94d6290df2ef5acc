/** Contract of the ways on with a doubtful knife: as planned, rework, shorten, second, scrap. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

export const wayKinds = ['asPlanned', 'rework', 'shorten', 'second', 'scrap'] as const;
export type WayKind = (typeof wayKinds)[number];

/** A figure with where it comes from. */
export interface WayPart {
  readonly label: string;
  readonly how: string;
  readonly minor: number;
}

export interface WayRow {
  readonly way: WayKind;
  /** Attended minutes still to spend. */
  readonly minutes: number;
  /** Quarter and three quarters of the own knives behind it; equal to `minutes` where there are none. */
  readonly minutesLow: number;
  readonly minutesHigh: number;
  readonly stages: readonly {
    readonly code: string;
    readonly name: string;
    readonly minutes: number;
    /** Of how many own knives this is the middle; 0 is the model's usual. */
    readonly from: number;
  }[];
  /** Still to spend, whether it passes or not. */
  readonly spendMinor: number;
  readonly spend: readonly WayPart[];
  /** Packing and posting beyond what is charged for it, spent only if it is sold. */
  readonly sellingMinor: number;
  readonly selling: readonly WayPart[];
  readonly chancePpm: number;
  readonly chanceHow: string;
  /** Without tax. */
  readonly priceMinor: number;
  readonly priceHow: string;
  readonly feeMinor: number;
  readonly feeHow: string;
  readonly expectedMinor: number;
  readonly leftMinor: number;
  readonly perHourMinor: number | null;
  readonly afterHoursMinor: number;
  /** What has to be known first; the figures do not count while there is one. */
  readonly missing: string;
  readonly caution: string;
}

export interface Decision {
  readonly id: string;
  readonly on: string;
  readonly chosen: WayKind;
  readonly reason: string;
  /** As reckoned then, best first. */
  readonly ways: readonly {
    readonly way: WayKind;
    readonly minutes: number;
    readonly spendMinor: number;
    readonly chancePpm: number;
    readonly priceMinor: number;
    readonly leftMinor: number;
    readonly perHourMinor: number | null;
  }[];
}

export interface WaysOn {
  readonly buildId: string;
  readonly serial: string;
  readonly title: string;
  readonly state: string;
  readonly modelId: string;
  readonly modelName: string;
  /** Checks that were not passed and not passed since, in words. */
  readonly doubts: readonly string[];
  /** Gone whichever way is taken. */
  readonly sunk: { readonly minutes: number; readonly directMinor: number; readonly atRateMinor: number };
  /** The maker's own rate, what is sunk is shown at. */
  readonly ratePerHourMinor: number;
  /** What an hour could earn elsewhere: the hours to come are paid at it, and the ways ranked. */
  readonly hourMinor: number;
  readonly hourHow: string;
  /** Best first. */
  readonly ways: readonly WayRow[];
  readonly sentence: string;
  /** Models a shorter knife could become, dearest first. */
  readonly models: readonly { readonly id: string; readonly code: string; readonly name: string }[];
  readonly shortenTo: string | null;
  readonly decisions: readonly Decision[];
}

const asked = {
  buildId: f.id,
  /** The model a shorter knife becomes. */
  shortenTo: f.id.optional(),
  /** What the maker knows better. */
  known: z
    .array(
      z.strictObject({
        way: z.enum(wayKinds),
        minutes: z.int().min(0, 'Minutes cannot be below zero.').max(60_000).optional(),
        spendMinor: f.minorPositive.optional(),
        chancePpm: f.ratePpm.optional(),
        priceMinor: f.minorPositive.optional(),
      }),
    )
    .max(wayKinds.length)
    .default([]),
};

/** Every call of the ways on. */
export const wayEndpoints = {
  'ways.reckon': query(z.strictObject(asked))<WaysOn>(),
  /** Keeps what was decided and why, with every way as reckoned; the knife itself is ended or changed by its own calls. */
  'ways.decide': command(
    z.strictObject({ ...asked, on: f.isoDate, chosen: z.enum(wayKinds), reason: f.requiredText }),
  )<Decision>(),
} as const;

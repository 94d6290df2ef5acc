/** Contract of closing a year: what is looked at first, the seal, and opening it again. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** A closed year, or one that was closed and opened again. */
export interface YearSeal {
  readonly id: string;
  readonly number: number;
  readonly from: string;
  readonly to: string;
  /** UTC instant. */
  readonly sealedAt: string;
  /** Number of the last entry of the history when it was sealed, and that entry's hash. */
  readonly seq: number;
  readonly journalHash: string;
  readonly rows: number;
  /** SHA-256 in hex: the line that is printed. */
  readonly seal: string;
  readonly note: string;
  /** What the checks had found and the maker accepted, in whole sentences. */
  readonly accepted: readonly string[];
  readonly totals: readonly SealTotal[];
  /** Null while it stands. */
  readonly reopened: { readonly at: string; readonly reason: string } | null;
}

/** A control total of the year: a count, money or time, in the smallest unit. */
export interface SealTotal {
  readonly key: string;
  readonly label: string;
  readonly unit: 'count' | 'minor' | 'micro' | 'minutes';
  readonly value: number;
}

/** Something looked at before a year is closed. */
export interface SealCheck {
  readonly key: string;
  /** Hard ones must be mended first; soft ones may be accepted. */
  readonly weight: 'hard' | 'soft';
  readonly passed: boolean;
  /** What was looked at, when it is in order; what is the matter, when it is not. */
  readonly text: string;
  readonly count: number;
  /** Where to mend it; empty where nothing is to be mended. */
  readonly href: string;
}

export interface SealOutlook {
  readonly from: string;
  readonly to: string;
  readonly checks: readonly SealCheck[];
  readonly totals: readonly SealTotal[];
  /** May be closed once the soft ones that did not pass are accepted. */
  readonly ready: boolean;
  /** Why it cannot be closed at all; empty otherwise. */
  readonly whyNot: string;
}

/** A row that is not as it was when its year was sealed. */
export interface SealDifference {
  readonly table: string;
  readonly key: string;
  readonly what: 'changed' | 'missing' | 'added';
}

/** What looking at a seal again found. */
export interface SealFound {
  readonly seal: YearSeal;
  /** The year is to the letter what was sealed, and so is the history up to it. */
  readonly holds: boolean;
  /** One plain sentence on the history: sound, or the first entry that does not fit. */
  readonly history: string;
  /** At most fifty. */
  readonly differences: readonly SealDifference[];
  readonly differing: number;
}

export interface Seals {
  /** Latest first. */
  readonly seals: readonly YearSeal[];
  /** Nothing dated up to this day may change; null while no year is closed. */
  readonly closedThrough: string | null;
}

const span = { from: f.isoDate, to: f.isoDate };

/** Every call of closing a year. */
export const sealEndpoints = {
  'seals.list': query(z.strictObject({}))<Seals>(),
  /** What would be looked at before this year is closed, and what its totals are. */
  'seals.outlook': query(z.strictObject(span))<SealOutlook>(),
  /** Looks again whether a closed year is as it was sealed. */
  'seals.prove': query(z.strictObject({ id: f.id }))<SealFound>(),
  'seals.close': command(
    z.strictObject({
      ...span,
      /** Keys of the soft checks that did not pass and are accepted. */
      accepted: z.array(f.shortText).max(40).default([]),
      note: f.shortText.default(''),
    }),
  )<YearSeal>(),
  'seals.reopen': command(
    z.strictObject({ id: f.id, reason: f.requiredText.min(5, 'Say in a few words why it is opened again.') }),
  )<YearSeal>(),
} as const;

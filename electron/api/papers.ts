/** Contract of how papers look and speak: language, logo, accent, account, structured invoices. */
import { z } from 'zod';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

const textKinds = ['care', 'warranty', 'returns', 'restricted', 'reminder', 'preview', 'orderTerms'] as const;

/** What the maker says on papers in their own words. */
export type PaperTextKind = (typeof textKinds)[number];

export interface PaperSettings {
  /** Of papers for buyers who have none of their own, ISO 639-1. */
  readonly language: string;
  /** Languages papers can be written in. */
  readonly languages: readonly string[];
  readonly size: 'A4' | 'Letter';
  /** `#rrggbb`; empty for the house's own ink. */
  readonly accent: string;
  /** Null without one. */
  readonly logo: { readonly mime: string; readonly base64: string } | null;
  /** Without spaces; empty without an account. */
  readonly iban: string;
  readonly bic: string;
  readonly bankName: string;
  /** Those that are not empty. */
  readonly texts: readonly {
    readonly kind: PaperTextKind;
    readonly language: string;
    readonly text: string;
  }[];
}

/** How a structured invoice of an invoice stands. */
export interface StructuredState {
  /** Instant it was made; null while it was not asked for. */
  readonly madeAt: string | null;
  /** What the standard asks for and the invoice does not have, each a sentence; empty when it can be made. */
  readonly missing: readonly string[];
}

const look = {
  language: z.string().trim().max(8),
  size: z.enum(['A4', 'Letter']),
  accent: z.string().trim().toLowerCase().max(7).default(''),
};

/** Every call of how papers look and speak: language, logo, accent, account, structured invoices. */
export const paperEndpoints = {
  'papers.settings': query(z.strictObject({}))<PaperSettings>(),
  'papers.save': command(
    z.strictObject({
      ...look,
      iban: z.string().trim().max(60).default(''),
      bic: z.string().trim().max(20).default(''),
      bankName: f.shortText.default(''),
    }),
  )<PaperSettings>(),
  'papers.setLogo': command(
    z.strictObject({
      name: f.requiredText,
      base64: z
        .base64('This file could not be read.')
        .max(1_400_000, 'This picture is larger than 1 MB. Make it smaller first.'),
    }),
  )<PaperSettings>(),
  'papers.removeLogo': command(z.strictObject({}))<PaperSettings>(),
  /** The maker's own words in one language; what is empty is printed nowhere. */
  'papers.saveTexts': command(
    z.strictObject({
      language: look.language,
      texts: z.array(z.strictObject({ kind: z.enum(textKinds), text: f.longText })).max(textKinds.length),
    }),
  )<PaperSettings>(),
  /** An invented invoice in the look given, saved or not. */
  'papers.sample': query(z.strictObject(look))<FileOut>(),
  'papers.structuredState': query(z.strictObject({ invoiceId: f.id }))<StructuredState>(),
  /** Makes the structured invoice once and keeps it; later the same file is handed out. */
  'papers.structured': command(z.strictObject({ invoiceId: f.id }))<FileOut>(),
} as const;

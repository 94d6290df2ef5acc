/** Contract of bringing in a maker's own records from CSV, and people from vCards: look, match columns, check every line, then all or nothing. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** The kinds of records a file can bring in. */
export const importKinds = ['purchases', 'hours', 'sales', 'buyers', 'expenses'] as const;
export type ImportKind = (typeof importKinds)[number];

export interface ImportField {
  readonly key: string;
  readonly label: string;
  readonly required: boolean;
  readonly hint: string;
}

export interface ImportHabits {
  readonly dateOrder: 'ymd' | 'dmy' | 'mdy';
  readonly decimalMark: '.' | ',';
}

export interface ImportLook {
  readonly delimiter: string;
  readonly columns: readonly string[];
  readonly lines: number;
  readonly sample: readonly (readonly string[])[];
  readonly fields: readonly ImportField[];
  /** Column for each field: remembered from the last file with these headings, else guessed; -1 for none. */
  readonly mapping: Readonly<Record<string, number>>;
  readonly remembered: boolean;
  /** How days and decimals of the last file with these headings were read; null where none is remembered. */
  readonly habits: ImportHabits | null;
  readonly problems: readonly ImportProblem[];
}

export interface ImportProblem {
  /** Line in the file as an editor counts it; the heading is line 1. */
  readonly line: number;
  readonly field: string | null;
  readonly message: string;
}

export interface ImportCheck {
  readonly good: number;
  readonly problems: readonly ImportProblem[];
  /** What would be booked, in words, first rows. */
  readonly preview: readonly { readonly line: number; readonly text: string }[];
  /** Lines left out on purpose, with why: people the books know already. */
  readonly leftOut: readonly { readonly line: number; readonly text: string }[];
  /** Lines that are booked all the same, with what they should be looked at for: past sales to places of the table. */
  readonly doubts: readonly { readonly line: number; readonly text: string }[];
  /** Things named in the file that are not in the books and would be made. */
  readonly wouldMake: readonly { readonly what: 'supplier' | 'item' | 'buyer'; readonly name: string }[];
}

const source = {
  kind: z.enum(importKinds),
  text: z.string().min(1, 'The file is empty.').max(20_000_000, 'The file is larger than 20 MB; split it.'),
};
const matched = {
  ...source,
  mapping: z.record(z.string().max(40), z.int().min(-1).max(500)),
  dateOrder: z.enum(['ymd', 'dmy', 'mdy']).default('ymd'),
  decimalMark: z.enum(['.', ',']).default('.'),
  /** Make suppliers, items and buyers the file names and the books do not know yet. */
  makeMissing: z.boolean().default(false),
  /** Leave out people the books seem to know already, instead of refusing their lines. */
  leaveOutKnown: z.boolean().default(false),
};

/** Every call of bringing in records. */
export const importEndpoints = {
  'imports.look': query(z.strictObject(source))<ImportLook>(),
  'imports.check': query(z.strictObject(matched))<ImportCheck>(),
  'imports.run': command(z.strictObject({ ...matched, fileName: f.shortText.default('') }))<{
    readonly booked: number;
    readonly made: number;
  }>(),
} as const;

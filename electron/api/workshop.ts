/** Contract of the Workshop area: who we are, rates, tax places, channels, stages, safety copies, history. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

export interface Workshop {
  readonly name: string;
  readonly maker: string;
  /** Street lines; the whole postal address where it is not in parts. */
  readonly address: string;
  readonly city: string;
  readonly region: string;
  readonly postcode: string;
  /** ISO 3166-1 alpha-2. */
  readonly country: string;
  readonly email: string;
  readonly phone: string;
  readonly website: string;
  readonly taxNumber: string;
  /** Of a trade register or the like; may be empty. */
  readonly registerNumber: string;
  /** ISO 4217 code. */
  readonly currency: string;
  readonly lengthHabit: 'inch' | 'mm';
  readonly weightHabit: 'oz' | 'g';
  readonly paper: 'A4' | 'Letter';
  readonly homeTaxPlaceId: string;
  readonly invoicePattern: string;
  readonly invoiceTermsDays: number;
  /** Printed under every invoice: how to pay, care, thanks. */
  readonly invoiceNote: string;
}

export interface WorkshopState {
  readonly isSetUp: boolean;
  readonly demo: boolean;
  readonly today: string;
  readonly now: string;
  /** Null until set up. */
  readonly workshop: Workshop | null;
  /** Decimals of the currency's minor unit (ISO 4217); 2 until set up. */
  readonly decimals: number;
  /** Instant of the newest safety copy that was read back and checked. */
  readonly lastVerifiedCopy: string | null;
  /** What the newest copy differs in from the one before although nobody can change it; null when it does not. */
  readonly changedByItself: ChangedByItself | null;
}

export interface Rate {
  readonly id: string;
  readonly kind: 'labour' | 'overhead';
  readonly from: string;
  readonly perHourMicro: number;
  readonly note: string;
}

/** Standard rate, zero rate, exempt, reverse charge, within the Union, export, outside the scope of the tax. */
export const taxCategories = ['', 'S', 'Z', 'E', 'AE', 'K', 'G', 'O'] as const;
export type TaxCategory = (typeof taxCategories)[number];

export interface TaxPlace {
  readonly id: string;
  readonly name: string;
  /** What the tax is called on paper, e.g. "Sales tax". */
  readonly label: string;
  readonly ratePpm: number;
  readonly onShipping: boolean;
  /** Prices already contain the tax. */
  readonly inclusive: boolean;
  readonly rounding: 'invoice' | 'line';
  /** Printed when the rate is zero, e.g. "Export, no tax charged". */
  readonly note: string;
  /** When tax on a deposit is owed: with the deposit, with the balance, or at delivery. */
  readonly depositTax: 'deposit' | 'balance' | 'delivery';
  /** A kept deposit carries tax. */
  readonly forfeitTaxed: boolean;
  /** Category of UNTDID 5305; empty: S above zero, else Z. */
  readonly category: TaxCategory;
  /** Code of the reason why no tax is charged, e.g. of the VATEX list; may be empty. */
  readonly reasonCode: string;
  readonly archived: boolean;
}

export interface Channel {
  readonly id: string;
  readonly name: string;
  readonly feePpm: number;
  readonly feeFixedMinor: number;
  readonly abroadExtraPpm: number;
  readonly archived: boolean;
}

export interface Stage {
  readonly code: string;
  readonly name: string;
  readonly position: number;
  /** Attended work costs labour; a wait (kiln, glue) only moves dates. */
  readonly attended: boolean;
  readonly archived: boolean;
}

/** Rows that differ between two safety copies although the books let nobody change them: the disk or the memory did. */
export interface ChangedByItself {
  /** Name of the copy that still has them as they were. */
  readonly from: string;
  /** When that copy was made. */
  readonly since: string;
  readonly count: number;
  /** The first of them: table of the books and key of the row. */
  readonly rows: readonly { readonly table: string; readonly key: string }[];
}

export interface SafetyCopy {
  readonly name: string;
  readonly at: string;
  readonly bytes: number;
  readonly sha256: string;
  /** Read back, sound, and true to the copy before. */
  readonly verified: boolean;
  /** What is no longer as it was in the copy before, though it may not change; null when nothing is. */
  readonly changed: ChangedByItself | null;
  /** Why it was made; `replaced` are books that were set aside when others took their place, `brought` came out of an archive. */
  readonly reason: 'asked' | 'closing' | 'before-migration' | 'replaced' | 'brought';
  /** Number of the newest entry of the history inside. */
  readonly seq: number;
}

export interface JournalEntry {
  readonly seq: number;
  readonly at: string;
  readonly command: string;
  /** The command in words a person can read. */
  readonly summary: string;
  readonly hash: string;
}

const country = z
  .string()
  .trim()
  .toUpperCase()
  .regex(/^[A-Z]{2}$/, 'Write the country as its two letters, for example US or DE.');
const taxPlaceFields = {
  name: f.requiredText,
  label: f.requiredText,
  ratePpm: f.ratePpm,
  onShipping: z.boolean(),
  inclusive: z.boolean(),
  rounding: z.enum(['invoice', 'line']),
  note: f.shortText.default(''),
  depositTax: z.enum(['deposit', 'balance', 'delivery']).default('balance'),
  forfeitTaxed: z.boolean().default(false),
  category: z.enum(taxCategories).default(''),
  reasonCode: z.string().trim().max(40, 'Keep this under 40 characters.').default(''),
};
const details = {
  name: f.requiredText,
  maker: f.requiredText,
  address: f.longText,
  city: f.shortText.default(''),
  region: f.shortText.default(''),
  postcode: f.shortText.default(''),
  country,
  email: f.shortText.default(''),
  phone: f.shortText.default(''),
  website: f.shortText.default(''),
  taxNumber: f.shortText.default(''),
  registerNumber: f.shortText.default(''),
  currency: z.string().regex(/^[A-Z]{3}$/, 'Choose a currency.'),
  lengthHabit: z.enum(['inch', 'mm']),
  weightHabit: z.enum(['oz', 'g']),
  paper: z.enum(['A4', 'Letter']),
  invoicePattern: f.requiredText,
  invoiceTermsDays: z.int().min(0).max(365),
  invoiceNote: f.longText.default(''),
};

/** Every call of the Workshop area. */
export const workshopEndpoints = {
  'workshop.state': query(z.strictObject({}))<WorkshopState>(),
  'workshop.setUp': command(
    z.strictObject({
      ...details,
      taxPlace: z.strictObject(taxPlaceFields),
      labourPerHourMicro: f.microPositive,
      labourFrom: f.isoDate,
      overheadPerHourMicro: f.microPositive,
    }),
  )<Workshop>(),
  'workshop.update': command(z.strictObject({ ...details, homeTaxPlaceId: f.id }))<Workshop>(),
  'workshop.rates': query(z.strictObject({}))<readonly Rate[]>(),
  'workshop.setRate': command(
    z.strictObject({
      kind: z.enum(['labour', 'overhead']),
      from: f.isoDate,
      perHourMicro: f.microPositive,
      note: f.shortText.default(''),
    }),
  )<Rate>(),
  'workshop.taxPlaces': query(z.strictObject({}))<readonly TaxPlace[]>(),
  'workshop.saveTaxPlace': command(
    z.strictObject({ id: f.id.optional(), ...taxPlaceFields, archived: z.boolean().default(false) }),
  )<TaxPlace>(),
  'workshop.channels': query(z.strictObject({}))<readonly Channel[]>(),
  'workshop.saveChannel': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      feePpm: f.ratePpm,
      feeFixedMinor: f.minorPositive,
      abroadExtraPpm: f.ratePpm,
      archived: z.boolean().default(false),
    }),
  )<Channel>(),
  'workshop.stages': query(z.strictObject({}))<readonly Stage[]>(),
  'workshop.saveStage': command(
    z.strictObject({
      code: z
        .string()
        .trim()
        .toUpperCase()
        .regex(/^[A-Z0-9]{2,6}$/, 'Use two to six letters or digits, for example HND.'),
      name: f.requiredText,
      position: z.int().min(0).max(999),
      attended: z.boolean(),
      archived: z.boolean().default(false),
    }),
  )<Stage>(),
  'workshop.copies': query(z.strictObject({}))<readonly SafetyCopy[]>(),
  /** Makes a safety copy of the books and reads it back. */
  'workshop.copyNow': command(z.strictObject({}))<SafetyCopy>(),
  'workshop.history': query(
    z.strictObject({
      text: f.shortText.default(''),
      limit: z.int().min(1).max(1000).default(100),
      beforeSeq: z.int().optional(),
    }),
  )<f.Page<JournalEntry>>(),
} as const;

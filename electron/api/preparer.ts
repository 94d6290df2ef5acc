/**
 * Contract of the sheet for the preparer: the year's figures laid out by the lines of a tax form, both by the day money
 * moved and by the day it was earned. It prepares figures and decides no treatment. Money in the minor unit.
 */
import { z } from 'zod';
import type { LineChange, OpeningTie, SheetLine, SheetSource } from '../domain/preparer.ts';
import type { FormLine, SheetPart } from '../domain/preparer-forms.ts';
import type { FileOut } from './costs.ts';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

const sheetViews = ['cash', 'earned'] as const;
/** By the day money moved, or by the day it was earned and owed. */
export type SheetView = (typeof sheetViews)[number];
/** How closing stock is valued, as line 33 asks: at cost, the lower of cost and market, another way; empty: not said. */
const valuations = ['cost', 'lower', 'other', ''] as const;
export type Valuation = (typeof valuations)[number];

/** A list of lines: one that comes with the house, or one the maker wrote. */
export interface SheetForm {
  readonly id: string;
  readonly name: string;
  readonly note: string;
  /** Written by the maker, and so changeable. */
  readonly own: boolean;
  readonly archived: boolean;
  /** Without the lines that add up. */
  readonly lines: readonly FormLine[];
}

/** What the maker says of a year and the books cannot know. */
export interface SheetAnswers {
  readonly formId: string;
  readonly view: SheetView;
  readonly valuedAt: Valuation;
  readonly methodChanged: boolean;
  /** Closing stock as last year's form said it; null: not told. */
  readonly lastClosingMinor: number | null;
  /** Why opening stock differs from it. */
  readonly openingNote: string;
  readonly note: string;
}

/** Stock at cost and what went through it; own labour at zero. */
export interface SheetGoods {
  readonly openingMinor: number;
  readonly materialsMinor: number;
  readonly consumablesMinor: number;
  /** Taken for personal use, and knives kept or given away, at cost. */
  readonly personalMinor: number;
  readonly closingMinor: number;
  /** opening + materials + consumables − personal − closing */
  readonly byCountMinor: number;
  /** Supplies of which no count is kept, as bought: an expense, not stock. */
  readonly incidentalMinor: number;
  /** Freight kept out of stock. */
  readonly freightMinor: number;
}

/** Three figures of material, as advisers differ on which may be deducted when. */
export interface MaterialFigures {
  /** Bought in the year, supplies and shared freight in it. */
  readonly boughtMinor: number;
  /** Used in knives in the year, sold or not. */
  readonly usedMinor: number;
  /** In the knives sold in the year. */
  readonly soldMinor: number;
}

/** Sales tax of one place in one quarter. */
export interface SheetTax {
  readonly from: string;
  readonly to: string;
  readonly place: string;
  readonly ratePpm: number;
  readonly baseMinor: number;
  readonly dueMinor: number;
  readonly collectedMinor: number;
}

export interface SheetTrips {
  readonly unit: 'mi' | 'km';
  readonly trips: number;
  readonly distanceMilli: number;
  readonly amountMinor: number;
}

export interface SheetAsset {
  readonly id: string;
  readonly name: string;
  readonly boughtOn: string;
  readonly inServiceOn: string;
  readonly costMinor: number;
  readonly sharePpm: number;
  readonly method: string;
  /** Of the year, and of the years before it. */
  readonly yearMinor: number;
  readonly beforeMinor: number;
  /** What is not written off at the year's end. */
  readonly leftMinor: number;
  readonly disposedOn: string | null;
  readonly proceedsMinor: number;
}

/** Something that is not there and should be, with the screen to mend it on. */
export interface SheetGap {
  readonly key: string;
  readonly text: string;
  readonly count: number;
  readonly href: string;
}

/** A sheet as it was handed over, and what is different now. */
export interface HandedSheet {
  readonly id: string;
  readonly on: string;
  readonly view: SheetView;
  readonly formName: string;
  readonly changes: readonly LineChange[];
}

export interface PreparerSheet {
  readonly workshopName: string;
  readonly maker: string;
  readonly currency: string;
  readonly decimals: number;
  readonly from: string;
  readonly to: string;
  readonly form: { readonly id: string; readonly name: string; readonly note: string };
  readonly answers: SheetAnswers;
  /** False while the answers are only proposed. */
  readonly answered: boolean;
  readonly lines: readonly SheetLine[];
  readonly unplaced: readonly SheetSource[];
  readonly leftOff: readonly SheetSource[];
  readonly goods: SheetGoods;
  readonly opening: OpeningTie;
  readonly materials: MaterialFigures;
  readonly held: readonly {
    readonly orderId: string;
    readonly tag: string;
    readonly buyerName: string;
    readonly minor: number;
  }[];
  readonly tax: readonly SheetTax[];
  readonly trips: readonly SheetTrips[];
  readonly assets: readonly SheetAsset[];
  readonly handed: readonly HandedSheet[];
  readonly gaps: readonly SheetGap[];
  /** What the figures take for granted, in whole sentences. */
  readonly notes: readonly string[];
}

/** Where a source of figures goes on a form, in a tax year. */
export interface MapRow {
  readonly source: string;
  readonly label: string;
  readonly group: SheetPart;
  /** Empty: on no line on purpose. Null: nobody said, and the form proposes none. */
  readonly line: string | null;
  /** First tax year the maker's own word holds for; null while the form proposes it. */
  readonly fromYear: number | null;
}

const span = { from: f.isoDate, to: f.isoDate };
const code = z.string().trim().min(1, 'Give the line a number or a letter.').max(12, 'Keep this short.');

/** Every call of the sheet for the preparer. */
export const preparerEndpoints = {
  'preparer.sheet': query(z.strictObject(span))<PreparerSheet>(),
  'preparer.sheetPdf': query(z.strictObject(span))<FileOut>(),
  /** The sheet as plain rows: header row, ISO days, point decimals. */
  'preparer.rows': query(z.strictObject(span))<readonly (readonly (string | number)[])[]>(),
  'preparer.forms': query(z.strictObject({}))<readonly SheetForm[]>(),
  'preparer.map': query(z.strictObject({ formId: f.id, year: z.int().min(1900).max(9999) }))<
    readonly MapRow[]
  >(),
  'preparer.setLine': command(
    z.strictObject({
      formId: f.id,
      source: z.string().min(1).max(80),
      fromYear: z.int('Write the year.').min(1900, 'Write the year with four digits.').max(9999),
      line: z.string().trim().max(12),
    }),
  )<readonly MapRow[]>(),
  'preparer.saveForm': command(
    z.strictObject({
      id: f.id.optional(),
      /** The list whose places a new one takes over. */
      likeId: f.id.optional(),
      name: f.requiredText,
      note: f.shortText.default(''),
      archived: z.boolean().default(false),
      lines: z
        .array(z.strictObject({ code, label: f.requiredText, part: z.enum(['income', 'goods', 'expenses']) }))
        .min(1, 'A list needs at least one line.')
        .max(200, 'Two hundred lines at most.'),
    }),
  )<SheetForm>(),
  'preparer.answer': command(
    z.strictObject({
      ...span,
      formId: f.id,
      view: z.enum(sheetViews),
      valuedAt: z.enum(valuations),
      methodChanged: z.boolean(),
      lastClosingMinor: f.minorPositive.nullable(),
      openingNote: f.longText.default(''),
      note: f.longText.default(''),
    }),
  )<PreparerSheet>(),
  'preparer.handOver': command(z.strictObject(span))<PreparerSheet>(),
} as const;

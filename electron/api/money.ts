/** Contract of expenses, mileage, assets and income that is on no invoice. */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';
import type { Convention } from '../domain/depreciation-tables.ts';
import type { DistanceUnit } from '../domain/mileage.ts';

/** Where the report of a year counts a category. */
const expenseKinds = ['overhead', 'supplies', 'postage', 'platformFee', 'taxPaid'] as const;
export type ExpenseKind = (typeof expenseKinds)[number];

export interface Category {
  readonly id: string;
  readonly name: string;
  readonly kind: ExpenseKind;
  readonly archived: boolean;
  /** Line of the tax form this year; empty where none is set. */
  readonly line: string;
}

export interface Expense {
  readonly id: string;
  readonly categoryId: string;
  readonly category: string;
  readonly kind: ExpenseKind;
  /** The day the cost belongs to. */
  readonly costOn: string;
  /** Null while it is owed. */
  readonly paidOn: string | null;
  readonly payee: string;
  readonly amountMinor: number;
  readonly taxMinor: number;
  readonly sharePpm: number;
  /** What it costs the workshop. */
  readonly costMinor: number;
  /** A receipt on paper is kept. */
  readonly receipt: boolean;
  /** Files that hang on it. */
  readonly files: number;
  readonly note: string;
  readonly reason: string;
  /** The expense this row takes back. */
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

export interface ExpenseList extends f.Page<Expense> {
  readonly costMinor: number;
  readonly amountMinor: number;
}

export interface Repeat {
  readonly id: string;
  readonly categoryId: string;
  readonly category: string;
  readonly payee: string;
  readonly amountMinor: number;
  readonly taxMinor: number;
  readonly sharePpm: number;
  readonly everyMonths: number;
  readonly from: string;
  readonly until: string | null;
  readonly note: string;
  /** The next day after today; null when it has ended. */
  readonly next: string | null;
}

/** A repeat that fell due and is neither booked nor passed over. */
export interface DueRepeat {
  readonly repeatId: string;
  readonly on: string;
  readonly payee: string;
  readonly category: string;
  readonly amountMinor: number;
}

export interface Trip {
  readonly id: string;
  readonly on: string;
  /** Thousandths of the unit. */
  readonly distanceMilli: number;
  readonly unit: DistanceUnit;
  readonly purpose: string;
  readonly amountMinor: number;
  readonly reason: string;
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

export interface MileageRateRow {
  readonly from: string;
  readonly unit: DistanceUnit;
  readonly perUnitMicro: number;
  readonly note: string;
}

export interface Mileage {
  readonly trips: readonly Trip[];
  readonly amountMinor: number;
  /** Distances added up by unit, taken-back trips off. */
  readonly distances: readonly { readonly unit: DistanceUnit; readonly milli: number }[];
  readonly rates: readonly MileageRateRow[];
  /** What distances are written in unless another is said. */
  readonly unit: DistanceUnit;
}

const disposals = ['sold', 'scrapped', 'given', 'lost'] as const;
export type Disposal = (typeof disposals)[number];
const conventions = ['halfYear', 'q1', 'q2', 'q3', 'q4', 'straight'] as const satisfies readonly Convention[];

export interface AssetYear {
  readonly from: string;
  readonly to: string;
  /** The year as it is called, e.g. 2025 or 2025/26. */
  readonly name: string;
  readonly minor: number;
  readonly takenMinor: number;
  readonly leftMinor: number;
  readonly gainMinor: number | null;
}

export interface Asset {
  readonly id: string;
  readonly number: number;
  readonly name: string;
  readonly supplier: string;
  readonly boughtOn: string;
  readonly inServiceOn: string;
  readonly costMinor: number;
  readonly sharePpm: number;
  readonly residualMinor: number;
  readonly method: 'months' | 'table' | 'atOnce';
  readonly lifeMonths: number | null;
  readonly classYears: 3 | 5 | 7 | null;
  readonly convention: Convention | null;
  readonly note: string;
  readonly disposedOn: string | null;
  readonly disposedHow: Disposal | null;
  readonly proceedsMinor: number;
  readonly disposalNote: string;
  readonly files: number;
  readonly basisMinor: number;
  /** Not yet taken at the end of the fiscal year that runs; nothing once disposed of. */
  readonly leftMinor: number;
  readonly schedule: readonly AssetYear[];
}

export interface AssetList {
  readonly assets: readonly Asset[];
  /** All assets together by fiscal year, up to the last with anything in it. */
  readonly years: readonly {
    readonly from: string;
    readonly to: string;
    readonly name: string;
    readonly minor: number;
    readonly gainMinor: number;
  }[];
  /** Plain warnings: the last quarter, tables in a short year. */
  readonly warnings: readonly string[];
  /** Up to this for each piece a tool may be an expense; null asks nothing. */
  readonly smallToolMinor: number | null;
}

export type IncomeKind = 'supporters' | 'content' | 'other';

export interface LevelHeads {
  readonly level: string;
  readonly heads: number;
  readonly perMonthMinor: number;
}

export interface Income {
  readonly id: string;
  readonly kind: IncomeKind;
  readonly earnedOn: string;
  /** Null while it is awaited. */
  readonly receivedOn: string | null;
  readonly payer: string;
  readonly grossMinor: number;
  readonly feeMinor: number;
  readonly note: string;
  /** First day of the month supporters paid for. */
  readonly month: string | null;
  readonly heads: readonly LevelHeads[];
  readonly files: number;
  readonly reason: string;
  readonly reversesId: string | null;
  readonly reversedById: string | null;
}

export interface IncomeList {
  readonly rows: readonly Income[];
  readonly grossMinor: number;
  readonly feeMinor: number;
}

/** A month of supporters as the list of memberships has it, and whether it is booked. */
export interface SupporterMonth {
  /** First day of the month. */
  readonly month: string;
  /** Its last day, which heads are counted on. */
  readonly on: string;
  readonly heads: readonly LevelHeads[];
  readonly count: number;
  readonly grossMinor: number;
  readonly feeMinor: number;
  readonly booked: {
    readonly id: string;
    readonly grossMinor: number;
    readonly feeMinor: number;
    readonly count: number;
  } | null;
}

export interface MoneySettings {
  readonly platformPpm: number;
  readonly smallToolMinor: number | null;
}

const amount = f.minorPositive.min(1, 'Write what was paid, more than nothing.');
const sharePpm = z
  .int('Write a share in percent.')
  .min(1, 'A share of nothing is no cost of the workshop. Leave the entry out.')
  .max(1_000_000, 'A share cannot be above 100 %.');
const what = {
  categoryId: f.id,
  payee: f.shortText,
  amountMinor: amount,
  sharePpm: sharePpm.default(1_000_000),
};
const span = { from: f.isoDate.optional(), to: f.isoDate.optional() };
const unit = z.enum(['mi', 'km']);
const takeBack = z.strictObject({ id: f.id, on: f.isoDate, reason: f.requiredText });

const expenseEndpoints = {
  'money.categories': query(z.strictObject({}))<readonly Category[]>(),
  'money.saveCategory': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      kind: z.enum(expenseKinds),
      archived: z.boolean().default(false),
    }),
  )<readonly Category[]>(),
  'money.expenses': query(
    z.strictObject({
      ...span,
      categoryId: f.id.optional(),
      noReceipt: z.boolean().default(false),
      owed: z.boolean().default(false),
      text: f.shortText.default(''),
      ...f.page,
    }),
  )<ExpenseList>(),
  'money.payees': query(z.strictObject({}))<
    readonly { readonly payee: string; readonly categoryId: string }[]
  >(),
  'money.addExpense': command(
    z.strictObject({
      ...what,
      costOn: f.isoDate,
      paidOn: f.isoDate.nullable(),
      taxMinor: f.minorPositive.default(0),
      receipt: z.boolean().default(false),
      note: f.longText.default(''),
      /** Says that the same day, payee and sum once more is no slip. */
      again: z.boolean().default(false),
    }),
  )<Expense>(),
  'money.paid': command(z.strictObject({ id: f.id, on: f.isoDate }))<Expense>(),
  'money.receiptKept': command(z.strictObject({ id: f.id }))<Expense>(),
  'money.takeBack': command(takeBack)<Expense>(),
  'money.repeats': query(z.strictObject({}))<{
    readonly repeats: readonly Repeat[];
    readonly due: readonly DueRepeat[];
  }>(),
  'money.saveRepeat': command(
    z.strictObject({
      id: f.id.optional(),
      ...what,
      taxMinor: f.minorPositive.default(0),
      everyMonths: z.int().min(1, 'At least every month.').max(60, 'At most every five years.'),
      from: f.isoDate,
      until: f.isoDate.nullable().default(null),
      note: f.longText.default(''),
    }),
  )<Repeat>(),
  /** Books what fell due, as it was or with the sum and the day it was paid. */
  'money.bookDue': command(
    z.strictObject({
      repeatId: f.id,
      on: f.isoDate,
      amountMinor: amount,
      paidOn: f.isoDate.nullable(),
      receipt: z.boolean().default(false),
    }),
  )<Expense>(),
  'money.passDue': command(z.strictObject({ repeatId: f.id, on: f.isoDate }))<null>(),
} as const;

const mileageEndpoints = {
  'money.mileage': query(z.strictObject(span))<Mileage>(),
  'money.addTrip': command(
    z.strictObject({
      on: f.isoDate,
      distanceMilli: z
        .int('Write a distance, for example 24 mi.')
        .min(1, 'A distance must be more than zero.')
        .max(50_000_000, 'No single trip is that long. Check the distance.'),
      unit,
      purpose: f.requiredText,
    }),
  )<Trip>(),
  'money.takeBackTrip': command(takeBack)<Trip>(),
  /** Trips from that day to the next rate come to what the new rate says. */
  'money.setMileageRate': command(
    z.strictObject({ from: f.isoDate, unit, perUnitMicro: f.microPositive, note: f.shortText.default('') }),
  )<{ readonly restated: number }>(),
} as const;

const assetEndpoints = {
  'money.assets': query(z.strictObject({}))<AssetList>(),
  'money.saveAsset': command(
    z.strictObject({
      id: f.id.optional(),
      name: f.requiredText,
      supplier: f.shortText.default(''),
      boughtOn: f.isoDate,
      inServiceOn: f.isoDate,
      costMinor: amount,
      sharePpm: sharePpm.default(1_000_000),
      residualMinor: f.minorPositive.default(0),
      method: z.discriminatedUnion('kind', [
        z.strictObject({
          kind: z.literal('months'),
          lifeMonths: z
            .int('Write the life in years or months.')
            .min(1)
            .max(1200, 'No tool lasts a century.'),
        }),
        z.strictObject({
          kind: z.literal('table'),
          classYears: z.union([z.literal(3), z.literal(5), z.literal(7)]),
          convention: z.enum(conventions),
        }),
        z.strictObject({ kind: z.literal('atOnce') }),
      ]),
      note: f.longText.default(''),
    }),
  )<Asset>(),
  'money.dispose': command(
    z.strictObject({
      id: f.id,
      on: f.isoDate,
      how: z.enum(disposals),
      proceedsMinor: f.minorPositive.default(0),
      note: f.shortText.default(''),
    }),
  )<Asset>(),
  /** Takes a disposal back. */
  'money.keepAsset': command(z.strictObject({ id: f.id, reason: f.requiredText }))<Asset>(),
} as const;

const incomeEndpoints = {
  'money.incomes': query(z.strictObject(span))<IncomeList>(),
  'money.supporterMonths': query(z.strictObject({}))<readonly SupporterMonth[]>(),
  'money.bookSupporters': command(
    z.strictObject({
      /** First day of the month. */
      month: f.isoDate,
      grossMinor: amount,
      feeMinor: f.minorPositive,
      receivedOn: f.isoDate.nullable(),
      note: f.longText.default(''),
    }),
  )<Income>(),
  'money.addIncome': command(
    z.strictObject({
      kind: z.enum(['content', 'other']),
      earnedOn: f.isoDate,
      receivedOn: f.isoDate.nullable(),
      payer: f.requiredText,
      grossMinor: f.minorPositive.min(1, 'Write what came in, more than nothing.'),
      feeMinor: f.minorPositive.default(0),
      note: f.longText.default(''),
    }),
  )<Income>(),
  'money.received': command(z.strictObject({ id: f.id, on: f.isoDate }))<Income>(),
  'money.takeBackIncome': command(takeBack)<Income>(),
  'money.settings': query(z.strictObject({}))<MoneySettings>(),
  'money.saveSettings': command(
    z.strictObject({
      platformPpm: f.ratePpm,
      smallToolMinor: f.minorPositive.min(1, 'Write a limit, or leave it empty for none.').nullable(),
    }),
  )<MoneySettings>(),
} as const;

/** Every call about money that is neither a purchase nor a sale. */
export const moneyEndpoints = {
  ...expenseEndpoints,
  ...mileageEndpoints,
  ...assetEndpoints,
  ...incomeEndpoints,
} as const;

/**
 * Contract of the year: fiscal years, the yearly margin report, and what stands behind each of its figures.
 * Money is in the minor unit without sales tax, time in minutes. Every figure carries the same figure of the year before.
 */
import { z } from 'zod';
import { command, query } from './endpoint.ts';
import * as f from './fields.ts';

/** How fiscal years begin from a day on. */
export interface FiscalRule {
  /** First day it holds for; begins a year, which may be short. */
  readonly fromOn: string;
  /**
   * `date`: each year begins on `month`/`day`. `last`: each ends on the last weekday `day` (Monday 1 … Sunday 7) of
   * `month`; `nearest`: on the weekday nearest to the end of `month`. The last two are years of 52 or 53 weeks.
   */
  readonly kind: 'date' | 'last' | 'nearest';
  readonly month: number;
  readonly day: number;
}

export interface FiscalYear {
  /** First and last day, both in it. */
  readonly from: string;
  readonly to: string;
  /** `2025`, `2025/26`, or with its days when it is short. */
  readonly name: string;
  readonly days: number;
  /** Less than its twelve months, or 52 weeks. */
  readonly short: boolean;
  readonly state: 'past' | 'running' | 'toCome';
}

/** `perHour` is money per hour, in the minor unit. */
export type FigureUnit = 'money' | 'minutes' | 'count' | 'perHour';

/** One figure of the report, this year beside the year before. */
export interface YearFigure {
  /**
   * Stable name, e.g. `income.knives`, `overhead.<category id>`; what `year.entries` asks for. Beside figures it knows
   * `stock.raw.closing` (or `work`, `finished`; `opening`), `goods.bought`, `.supplies`, `.sold`, `.scrap`, and
   * `taxDue.` and `taxGot.` with the key of a row of tax.
   */
  readonly key: string;
  readonly label: string;
  readonly unit: FigureUnit;
  /** Null: cannot be told, e.g. an hourly figure without hours. */
  readonly value: number | null;
  /** The same of the year before; null without one. */
  readonly before: number | null;
  /** `year.entries` lists what stands behind it, and its amounts add up to `value`. */
  readonly opens: boolean;
  /** One plain sentence where the figure needs it. */
  readonly note?: string;
}

/** Figures that add up to their total. */
export interface YearSection {
  readonly figures: readonly YearFigure[];
  readonly total: YearFigure;
}

/** Sold knives added up under one heading. Contribution = price + shipping − postage − fee − direct cost. */
export interface YearGroup {
  readonly key: string;
  readonly label: string;
  readonly count: number;
  readonly salesMinor: number;
  readonly shippingMinor: number;
  readonly postageMinor: number;
  readonly feeMinor: number;
  readonly directMinor: number;
  readonly contributionMinor: number;
  /** Bench time on these knives, whenever it was worked. */
  readonly minutes: number;
  readonly perHourMinor: number | null;
  /** The same heading the year before; null without one. */
  readonly before: {
    readonly count: number;
    readonly salesMinor: number;
    readonly contributionMinor: number;
    readonly minutes: number;
    readonly perHourMinor: number | null;
  } | null;
}

export interface YearMonth {
  /** `YYYY-MM`; the first and last may be part of a month. */
  readonly month: string;
  readonly count: number;
  readonly incomeMinor: number;
  /** Direct cost, postage, fees, platform, scrap. */
  readonly costsMinor: number;
  readonly overheadMinor: number;
  readonly leftMinor: number;
  /** What came in by the day of payment. */
  readonly receiptsMinor: number;
  /** Hours booked in the month: at the bench on knives, on makings, other. */
  readonly benchMinutes: number;
  readonly otherMinutes: number;
}

/** Stock at cost at the end of a day; own labour at zero. */
export interface StockAtCost {
  readonly on: string;
  readonly rawMinor: number;
  readonly workMinor: number;
  readonly finishedMinor: number;
  readonly totalMinor: number;
}

/** One line of the bridge from the cost of goods by count to the cost of goods by use. */
export interface BridgeLine {
  readonly key: string;
  readonly label: string;
  readonly amountMinor: number;
  /** One sentence that says why the two ways differ by it. */
  readonly why: string;
  readonly opens: boolean;
}

export interface CostOfGoods {
  readonly openingMinor: number;
  /** All goods bought in the year, freight shared onto them included. */
  readonly boughtMinor: number;
  /** Of which supplies that are expensed when bought: oil, gas, small lots. */
  readonly suppliesMinor: number;
  readonly closingMinor: number;
  /** opening + bought − supplies − closing */
  readonly byCountMinor: number;
  readonly soldMinor: number;
  readonly scrapMinor: number;
  /** sold + scrapped, as the knives' sheets have it */
  readonly byUseMinor: number;
  /** byUse − byCount, and the lines that add up to it. */
  readonly bridgeMinor: number;
  readonly bridge: readonly BridgeLine[];
  /** Material drawn onto knives in the year, whether they are sold or not. */
  readonly usedMinor: number;
}

export interface HeldMoney {
  readonly orderId: string;
  readonly tag: string;
  readonly buyerName: string;
  readonly minor: number;
}

export interface YearTax {
  readonly key: string;
  readonly place: string;
  readonly label: string;
  readonly ratePpm: number;
  /** What it was reckoned on, and the tax that became due in the year. */
  readonly baseMinor: number;
  readonly dueMinor: number;
  /** The tax in what was paid in the year. */
  readonly collectedMinor: number;
}

/** Something that is not there and should be, with where to mend it. */
export interface YearGap {
  readonly key: string;
  /** A whole sentence, e.g. "3 expenses have no receipt." */
  readonly text: string;
  readonly count: number;
  /** Address of the screen to mend it on, e.g. `#/money`. */
  readonly href: string;
}

export interface YearReport {
  readonly workshopName: string;
  readonly maker: string;
  readonly currency: string;
  readonly decimals: number;
  readonly year: FiscalYear;
  readonly before: FiscalYear | null;
  /** Place in the journal the report was made at. */
  readonly seq: number;

  /** Earned view: counted on the day of the sale. Keys `income.knives`, `.shipping`, `.supporters`, `.service`, `.kept`, `.content`, `.other`. */
  readonly income: YearSection;
  /** Income of knives by channel, shipping in it; adds up to knives and shipping. */
  readonly channels: readonly YearFigure[];
  /** Keys `costs.materials`, `.consumables`, `.energy`, `.packaging`, `.postage`, `.fees`, `.platform`, `.scrap`. */
  readonly costs: YearSection;
  /** The four first of `costs` together. */
  readonly direct: YearFigure;
  /** Key `overhead.<category>`, `overhead.depreciation`, `overhead.mileage`. */
  readonly overhead: YearSection;
  /** Before labour and own taxes: income − costs − overhead. */
  readonly left: YearFigure;
  /** Of the knives sold, before overhead. */
  readonly contribution: YearFigure;

  /** Key `hours.bench` (knives begun in the year, whenever worked), `hours.makings`, `hours.other.<kind>`; the total is the hours worked. */
  readonly hours: YearSection;
  /** The same by the day it was worked: `worked.bench`, `worked.makings`, `worked.other`. */
  readonly worked: YearSection;
  /** Left for each hour of `hours`, and of `worked`; and overhead per bench hour; knives sold; hours in knives sold. */
  readonly rates: {
    readonly perHour: YearFigure;
    readonly perHourWorked: YearFigure;
    readonly overheadPerBenchHour: YearFigure;
    readonly sold: YearFigure;
    readonly soldMinutes: YearFigure;
  };
  /** Hours booked in the year by stage, on makings, and by other kind of work. */
  readonly hourWent: readonly YearFigure[];

  readonly models: readonly YearGroup[];
  readonly finishes: readonly YearGroup[];
  readonly byChannel: readonly YearGroup[];
  /** How the sale came about: `direct`, `order`, `early`, `public`, `second`. */
  readonly ways: readonly YearGroup[];
  readonly months: readonly YearMonth[];

  /** By the day of payment, without sales tax: `cash.knives`, `.deposits`, `.service`, `.supporters`, `.content`, `.other`. */
  readonly cash: YearSection;
  /** Lines that lead from what was earned to what was received; they add up to cash.total − income.total. */
  readonly cashBridge: readonly BridgeLine[];

  readonly opening: StockAtCost;
  readonly closing: StockAtCost;
  /** At the end of the day before the year and of each month in it. */
  readonly stock: readonly StockAtCost[];
  readonly goods: CostOfGoods;
  /** The same of the year before. */
  readonly goodsBefore: CostOfGoods | null;

  /** Customers' money at the end of the year, by order. */
  readonly held: readonly HeldMoney[];
  readonly heldMinor: number;
  readonly tax: readonly YearTax[];
  readonly taxDue: YearFigure;
  readonly gaps: readonly YearGap[];
  /** What the figures take for granted, in whole sentences. */
  readonly notes: readonly string[];
}

/** One entry behind a figure. */
export interface YearEntry {
  readonly id: string;
  readonly on: string;
  readonly what: string;
  readonly who: string;
  /** In the unit of the figure. */
  readonly amount: number;
  /** Address of the sale, invoice, expense, knife or lot it comes from; empty where there is none. */
  readonly href: string;
}

export interface YearEntries extends f.Page<YearEntry> {
  readonly key: string;
  readonly label: string;
  readonly unit: FigureUnit;
  /** Sum of all entries, those not shown as well. */
  readonly sum: number;
}

/** A table of the report for a workbook: header row, ISO days, point decimals. */
export interface YearTable {
  /** Name of its file without the ending, e.g. `2025-by-model`. */
  readonly name: string;
  readonly rows: readonly (readonly (string | number | null)[])[];
}

export interface FiscalYears {
  readonly rules: readonly FiscalRule[];
  /** Latest first; the one that runs is among them. */
  readonly years: readonly FiscalYear[];
}

const span = { from: f.isoDate, to: f.isoDate };

/** Every call of the year's report. */
export const yearEndpoints = {
  'year.years': query(z.strictObject({}))<FiscalYears>(),
  'year.report': query(z.strictObject(span))<YearReport>(),
  'year.entries': query(
    z.strictObject({ ...span, key: z.string().min(1).max(500), ...f.page }),
  )<YearEntries>(),
  /** Every table of the report as CSV, in one zip file. */
  'year.workbook': query(z.strictObject(span))<{ readonly name: string; readonly base64: string }>(),
  'year.saveRule': command(
    z.strictObject({
      fromOn: f.isoDate,
      kind: z.enum(['date', 'last', 'nearest']).default('date'),
      month: z.int().min(1, 'Choose a month.').max(12, 'Choose a month.'),
      day: z.int().min(1, 'Choose a day.').max(31, 'Choose a day.'),
    }),
  )<FiscalYears>(),
  'year.dropRule': command(z.strictObject({ fromOn: f.isoDate }))<FiscalYears>(),
} as const;

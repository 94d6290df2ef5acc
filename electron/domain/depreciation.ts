/**
 * Depreciation of things that last for years, in whole minor units: straight line by months, or by published tables.
 * Reckoned for consecutive fiscal years; what is taken over all of them and what is left at the end add up to the basis
 * to the cent. Rules beside the tables: IRS Publication 946 (a thing disposed of in the year it was placed in service
 * gets none; the half-year and mid-quarter conventions count again in the year of disposal). Straight line by months
 * counts the month of placing in service whole and the month of disposal not at all (common practice, no source).
 */
import { dayParts } from './calendar.ts';
import { type ClassYears, type Convention, tableShares } from './depreciation-tables.ts';
import type { YearSpan } from './fiscal-year.ts';
import { mulDiv, sumOf } from './integers.ts';

export type Method =
  | { readonly kind: 'months'; readonly lifeMonths: number }
  | { readonly kind: 'table'; readonly classYears: ClassYears; readonly convention: Convention }
  /** Written off whole in the year it was placed in service. */
  | { readonly kind: 'atOnce' };

export interface Depreciable {
  readonly inServiceOn: string;
  /** As invoiced, minor units. */
  readonly costMinor: number;
  /** Share of the workshop, parts per million. */
  readonly sharePpm: number;
  /** What it is thought to be worth at the end; only straight line by months leaves it out. */
  readonly residualMinor: number;
  readonly method: Method;
  readonly disposedOn: string | null;
  readonly proceedsMinor: number;
}

export interface ScheduleYear extends YearSpan {
  readonly minor: number;
  /** Taken up to the end of this year. */
  readonly takenMinor: number;
  /** Not yet taken at the end of this year; nothing once it is disposed of. */
  readonly leftMinor: number;
  /** Proceeds above what was left, or below where negative; null in a year without a disposal. */
  readonly gainMinor: number | null;
}

const PPM = 1_000_000;
const MID_MONTH = 15;

/** What is spread: the workshop's share of the cost. Minor units. */
export const basisOf = ({ costMinor, sharePpm }: Pick<Depreciable, 'costMinor' | 'sharePpm'>): number =>
  mulDiv(costMinor, sharePpm, PPM);

const monthIndex = (day: string): number => {
  const { year, month } = dayParts(day);
  return year * 12 + month;
};

/** Months in use up to a day, by what is known on it; a month belongs to the year its 15th lies in. */
function monthsUntil(thing: Depreciable, life: number, day: string): number {
  const { inServiceOn, disposedOn } = thing;
  if (inServiceOn > day) return 0;
  const first = monthIndex(inServiceOn);
  const whole = monthIndex(day) - first + (dayParts(day).day >= MID_MONTH ? 1 : 0);
  const inUse = disposedOn === null || disposedOn > day ? life : monthIndex(disposedOn) - first;
  return Math.max(0, Math.min(whole, inUse, life));
}

/** Taken up to each year's end, straight line: each a share of the whole, so that no cent is lost on the way. */
function byMonths(thing: Depreciable, life: number, years: readonly YearSpan[]): number[] {
  const base = basisOf(thing) - mulDiv(thing.residualMinor, thing.sharePpm, PPM);
  let taken = 0;
  return years.map(({ to }) => {
    // A year that ended within the month of the disposal keeps what it took.
    taken = Math.max(taken, mulDiv(base, monthsUntil(thing, life, to), life));
    return taken;
  });
}

const within = (day: string | null, { from, to }: YearSpan): boolean =>
  day !== null && from <= day && day <= to;

/**
 * Which quarter of its year a day lies in, 1 to 4, by months. A year of weeks counts from the first of the month nearest
 * to its first day (26 CFR 1.441-2(c), from memory).
 */
const quarterOf = (day: string, { from }: YearSpan): number => {
  const begins = monthIndex(from) + (dayParts(from).day > MID_MONTH ? 1 : 0);
  return Math.min(4, Math.max(1, Math.floor((monthIndex(day) - begins) / 3) + 1));
};

/** Part of a year's amount that a disposal leaves, in thousandths. */
function disposalShare(day: string, year: YearSpan, convention: Convention): number {
  if (convention === 'halfYear' || convention === 'straight') return 500;
  return quarterOf(day, year) * 250 - 125;
}

/** What each year of a table takes of the basis; the last year takes what rounding left, and none takes more than is left. */
export function tableAmounts(basis: number, classYears: ClassYears, convention: Convention): number[] {
  const shares = tableShares(classYears, convention);
  let left = basis;
  return shares.map((share, at) => {
    const part = at === shares.length - 1 ? left : Math.min(left, mulDiv(basis, share, 10_000));
    left -= part;
    return part;
  });
}

function byTable(
  thing: Depreciable,
  { classYears, convention }: Extract<Method, { readonly kind: 'table' }>,
  years: readonly YearSpan[],
): number[] {
  const amounts = tableAmounts(basisOf(thing), classYears, convention);
  const first = years.findIndex((year) => within(thing.inServiceOn, year));
  let taken = 0;
  return years.map((year, at) => {
    const planned = first < 0 || at < first ? 0 : (amounts[at - first] ?? 0);
    const { disposedOn } = thing;
    if (disposedOn !== null && within(disposedOn, year)) {
      if (at !== first) taken += mulDiv(planned, disposalShare(disposedOn, year, convention), 1000);
    } else if (disposedOn === null || year.to < disposedOn) taken += planned;
    return taken;
  });
}

function takenByYear(thing: Depreciable, years: readonly YearSpan[]): number[] {
  const { method } = thing;
  if (method.kind === 'months') return byMonths(thing, method.lifeMonths, years);
  if (method.kind === 'table') return byTable(thing, method, years);
  const basis = basisOf(thing);
  return years.map(({ to }) => (thing.inServiceOn <= to ? basis : 0));
}

/**
 * The schedule of one thing over consecutive fiscal years, which must begin with or before the one it was placed in
 * service in: tables count years from that one.
 */
export function schedule(thing: Depreciable, years: readonly YearSpan[]): readonly ScheduleYear[] {
  const basis = basisOf(thing);
  const taken = takenByYear(thing, years);
  return years.map((year, at) => {
    const takenMinor = taken[at] ?? 0;
    const left = basis - takenMinor;
    const gone = thing.disposedOn !== null && thing.disposedOn <= year.to;
    return {
      ...year,
      minor: takenMinor - (taken[at - 1] ?? 0),
      takenMinor,
      leftMinor: gone || thing.inServiceOn > year.to ? 0 : left,
      gainMinor: within(thing.disposedOn, year)
        ? mulDiv(thing.proceedsMinor, thing.sharePpm, PPM) - left
        : null,
    };
  });
}

/** How many fiscal years a thing still has something to take in, counted from the one it was placed in service in. */
export function yearsNeeded({ method }: Pick<Depreciable, 'method'>): number {
  if (method.kind === 'table') return tableShares(method.classYears, method.convention).length;
  return method.kind === 'months' ? Math.ceil(method.lifeMonths / 12) + 1 : 1;
}

/** What was placed in service in a year, for the test of the last quarter. */
export interface PlacedInService {
  readonly inServiceOn: string;
  readonly basisMinor: number;
}

/** What was placed in service in a year, and in its last quarter. Minor units. */
function placedIn(
  placed: readonly PlacedInService[],
  year: YearSpan,
): { readonly all: number; readonly late: number } {
  const mine = placed.filter(({ inServiceOn }) => within(inServiceOn, year));
  const late = mine.filter(({ inServiceOn }) => quarterOf(inServiceOn, year) === 4);
  const basis = (rows: readonly PlacedInService[]) => sumOf(rows, ({ basisMinor }) => basisMinor);
  return { all: basis(mine), late: basis(late) };
}

/** Part of a year's things that was placed in service in its last quarter, parts per million; 0 without any. */
export function lastQuarterPpm(placed: readonly PlacedInService[], year: YearSpan): number {
  const { all, late } = placedIn(placed, year);
  return all === 0 ? 0 : mulDiv(late, PPM, all);
}

/**
 * True where more than 40 % was placed in service in the last quarter: the tables by quarter apply then instead of the
 * half-year ones (IRS Publication 946, mid-quarter convention). Compared exactly, not by the rounded share.
 */
export function needsMidQuarter(placed: readonly PlacedInService[], year: YearSpan): boolean {
  const { all, late } = placedIn(placed, year);
  return BigInt(late) * 10n > BigInt(all) * 4n;
}

/** Cost of one piece with its part of the delivery, rounded up so that a limit is never passed unseen. Minor units. */
export const pieceWithDelivery = (invoicedMinor: number, deliveryMinor: number, pieces: number): number =>
  Math.ceil((invoicedMinor + deliveryMinor) / pieces);

export type SmallTool = 'mayBeExpense' | 'aboveLimit' | 'isStock' | 'noLimit';

/**
 * Whether a tool may be an expense at once by a limit for each piece as invoiced with its part of the delivery; never
 * for what goes into knives. Source: Treas. Reg. §1.263(a)-1(f), Notice 2015-82. A hint; it decides nothing.
 * @param limitMinor null where the maker set none
 */
export function smallTool(pieceMinor: number, limitMinor: number | null, forStock = false): SmallTool {
  if (forStock) return 'isStock';
  if (limitMinor === null) return 'noLimit';
  return pieceMinor <= limitMinor ? 'mayBeExpense' : 'aboveLimit';
}

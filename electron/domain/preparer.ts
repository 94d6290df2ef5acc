/**
 * The sheet for the preparer, pure: figures of the books placed on the lines of a list, and the lines that add them up.
 * Money in minor units. It prepares figures; how anything is taxed it does not decide.
 */
import type { FormLine, SheetPart, TaxForm } from './preparer-forms.ts';
import { mulDiv, sumOf } from './integers.ts';

const WHOLE = 1_000_000;

/** Money by the day it was paid beside money by the day it was earned or owed. */
export interface TwoViews {
  readonly cashMinor: number;
  readonly earnedMinor: number;
}

/** A figure of the books before it stands on a line; closing stock, own use and refunds are below zero. */
export interface SheetSource extends TwoViews {
  /** E.g. `income.knives`, `category:<id>`. */
  readonly source: string;
  readonly label: string;
  /** Address of the screen that lists what is in it; empty for none. */
  readonly href: string;
}

export interface SheetLine extends TwoViews {
  readonly code: string;
  readonly label: string;
  readonly part: SheetPart;
  /** It adds up other lines. */
  readonly reckoned: boolean;
  /** Share of its sources the line shows, parts per million. */
  readonly sharePpm: number;
  /** What stands on it. */
  readonly from: readonly SheetSource[];
}

export interface PlacedSheet {
  /** In the order of the form. */
  readonly lines: readonly SheetLine[];
  /** Figures that are on no line of the form though they should be. */
  readonly unplaced: readonly SheetSource[];
  /** Figures left off on purpose. */
  readonly leftOff: readonly SheetSource[];
}

/** Shown above zero where they stand alone on a line, as forms ask for them; what adds up takes them off. */
const takenOff = new Set(['goods.closing', 'income.refunds']);

const shareOf = (minor: number, ppm: number): number => (ppm === WHOLE ? minor : mulDiv(minor, ppm, WHOLE));

/** True for a line that holds nothing but what is taken off. */
const isTakenOff = (from: readonly SheetSource[]): boolean =>
  from.length > 0 && from.every(({ source }) => takenOff.has(source));

const plainLine = (line: FormLine, from: readonly SheetSource[]): SheetLine => {
  const sharePpm = line.sharePpm ?? WHOLE;
  const turned = isTakenOff(from);
  const shown = (view: keyof TwoViews): number => {
    const sum = sumOf(from, (each) => each[view]);
    // Nothing has no sign.
    return shareOf(turned && sum !== 0 ? -sum : sum, sharePpm);
  };
  return {
    code: line.code,
    label: line.label,
    part: line.part,
    reckoned: false,
    sharePpm,
    from,
    cashMinor: shown('cashMinor'),
    earnedMinor: shown('earnedMinor'),
  };
};

/** Adds up the lines that are reckoned from others, in whatever order they stand. */
function reckon(form: TaxForm, plain: ReadonlyMap<string, SheetLine>): ReadonlyMap<string, SheetLine> {
  const done = new Map(plain);
  const byCode = new Map(form.lines.map((line) => [line.code, line]));
  // A published form says itself what it takes off; the totals of a plain list only add up.
  const plainTotals = form.lines.some(({ code }) => code === 'result');
  const resolve = (code: string): TwoViews => {
    const known = done.get(code);
    if (known !== undefined) return known;
    const line = byCode.get(code);
    if (line?.terms === undefined) return { cashMinor: 0, earnedMinor: 0 };
    const add = (view: keyof TwoViews): number =>
      sumOf(line.terms ?? [], (term) => {
        const turned = plainTotals && isTakenOff(plain.get(term.code)?.from ?? []) ? -1 : 1;
        return term.sign * turned * resolve(term.code)[view];
      });
    const reckoned = {
      ...{ code, label: line.label, part: line.part, reckoned: true, sharePpm: WHOLE, from: [] },
      ...{ cashMinor: add('cashMinor'), earnedMinor: add('earnedMinor') },
    };
    done.set(code, reckoned);
    return reckoned;
  };
  for (const { code } of form.lines) resolve(code);
  return done;
}

/**
 * Puts every figure on its line and adds up.
 * @param codeOf line of a source; an empty text leaves it off on purpose, undefined when nobody said
 */
export function placeOnForm(
  form: TaxForm,
  sources: readonly SheetSource[],
  codeOf: (source: string) => string | undefined,
): PlacedSheet {
  const takes = new Set(form.lines.filter((line) => line.terms === undefined).map(({ code }) => code));
  const placed = new Map<string, SheetSource[]>();
  const unplaced: SheetSource[] = [];
  const leftOff: SheetSource[] = [];
  for (const source of sources) {
    const code = codeOf(source.source);
    if (code === '') leftOff.push(source);
    else if (code === undefined || !takes.has(code)) unplaced.push(source);
    else placed.set(code, [...(placed.get(code) ?? []), source]);
  }
  const plain = new Map(
    form.lines
      .filter(({ code }) => takes.has(code))
      .map((line) => [line.code, plainLine(line, placed.get(line.code) ?? [])]),
  );
  const all = reckon(form, plain);
  return {
    lines: form.lines.flatMap(({ code }) => all.get(code) ?? []),
    unplaced: unplaced.filter(isThere),
    leftOff: leftOff.filter(isThere),
  };
}

const isThere = (each: TwoViews): boolean => each.cashMinor !== 0 || each.earnedMinor !== 0;

/** How the opening stock stands to last year's closing stock. */
export interface OpeningTie {
  /** Stock of the books at the end of the day before the year. */
  readonly booksMinor: number;
  /** Last year's closing stock as it was handed over or told; null when nobody knows. */
  readonly lastMinor: number | null;
  /** books − last; null without a last. */
  readonly differenceMinor: number | null;
  /** `tied`: the same. `explained`: it differs and the maker said why. `open`: it differs and nobody said why. `unknown`: there is no last. */
  readonly state: 'tied' | 'explained' | 'open' | 'unknown';
}

/** Holds the opening stock against last year's closing stock; Schedule C wants any difference explained. */
export const tieOpening = (booksMinor: number, lastMinor: number | null, why: string): OpeningTie => {
  if (lastMinor === null) return { booksMinor, lastMinor, differenceMinor: null, state: 'unknown' };
  const differenceMinor = booksMinor - lastMinor;
  const state = differenceMinor === 0 ? 'tied' : why.trim() === '' ? 'open' : 'explained';
  return { booksMinor, lastMinor, differenceMinor, state };
};

/** What became of a line since a sheet was handed over. */
export interface LineChange {
  readonly code: string;
  readonly label: string;
  readonly handedMinor: number;
  readonly nowMinor: number;
}

/** Lines whose figure is no longer the one that was handed over. */
export const changedSince = (
  handed: readonly { readonly code: string; readonly minor: number }[],
  lines: readonly SheetLine[],
  view: 'cash' | 'earned',
): readonly LineChange[] => {
  const then = new Map(handed.map(({ code, minor }) => [code, minor]));
  return lines.flatMap((line) => {
    const handedMinor = then.get(line.code) ?? 0;
    const nowMinor = view === 'cash' ? line.cashMinor : line.earnedMinor;
    return handedMinor === nowMinor ? [] : [{ code: line.code, label: line.label, handedMinor, nowMinor }];
  });
};

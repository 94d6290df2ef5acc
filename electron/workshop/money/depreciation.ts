/** Depreciation of the books' assets by fiscal year, reckoned anew from the assets each time it is asked for. */
import { addDays } from '../../domain/calendar.ts';
import {
  basisOf,
  type Depreciable,
  lastQuarterPpm,
  type Method,
  needsMidQuarter,
  schedule,
  yearsNeeded,
} from '../../domain/depreciation.ts';
import type { ClassYears, Convention } from '../../domain/depreciation-tables.ts';
import {
  calendarYears,
  fiscalYears,
  type RuledYear,
  yearName,
  type YearRule,
  type YearSpan,
} from '../../domain/fiscal-year.ts';
import type { ReadDb } from '../../storage/db.ts';
import { fiscalRuleRows } from '../../storage/queries/fiscal-years.ts';
import { type AssetRow, assetRows } from '../../storage/queries/money.ts';

function methodOf(row: AssetRow): Method {
  if (row.method === 'months') return { kind: 'months', lifeMonths: row.life_months ?? 1 };
  if (row.method === 'atOnce') return { kind: 'atOnce' };
  return {
    kind: 'table',
    classYears: row.class_years as ClassYears,
    convention: row.convention as Convention,
  };
}

/** An asset of the books as depreciation is reckoned from it. */
export const depreciable = (row: AssetRow): Depreciable => ({
  inServiceOn: row.in_service_on,
  costMinor: row.cost_minor,
  sharePpm: row.share_ppm,
  residualMinor: row.residual_minor,
  method: methodOf(row),
  disposedOn: row.disposed_on,
  proceedsMinor: row.proceeds_minor,
});

/** Fiscal years from the one a day lies in to the one another lies in; calendar years before the first rule. */
export function yearsBetween(db: ReadDb, from: string, to: string): readonly RuledYear[] {
  const rules = fiscalRuleRows(db).map((row): YearRule => ({
    fromOn: row.from_on,
    kind: row.kind as YearRule['kind'],
    month: row.month,
    day: row.day,
  }));
  const first = rules[0]?.fromOn;
  const inForce = first === undefined || from < first ? [calendarYears(from), ...rules] : rules;
  return fiscalYears(inForce, to).filter((year) => year.to >= from);
}

/** Every fiscal year one thing has something in. */
export function ownYears(db: ReadDb, thing: Depreciable): readonly RuledYear[] {
  // A little more than a year for each, so that years of 53 weeks and short ones have room.
  const end = addDays(thing.inServiceOn, yearsNeeded(thing) * 372);
  const last = thing.disposedOn !== null && thing.disposedOn > end ? thing.disposedOn : end;
  return yearsBetween(db, thing.inServiceOn, last);
}

/** What one asset brings to a span of days. */
export interface DepreciationLine {
  readonly assetId: string;
  readonly number: number;
  readonly name: string;
  readonly minor: number;
  /** Proceeds above what was left, or below where negative; null without a disposal. */
  readonly gainMinor: number | null;
}

/** A span that is no fiscal year: straight line by its days' months, tables by the years that end in it. */
function inSpan(db: ReadDb, thing: Depreciable, span: YearSpan): { minor: number; gainMinor: number | null } {
  const own = schedule(thing, ownYears(db, thing));
  const gained = own.find((year) => year.gainMinor !== null)?.gainMinor ?? null;
  const disposed = thing.disposedOn !== null && span.from <= thing.disposedOn && thing.disposedOn <= span.to;
  const gainMinor = disposed ? gained : null;
  if (thing.method.kind === 'table') {
    const ending = own.filter(({ to }) => span.from <= to && to <= span.to);
    return { minor: ending.reduce((so, year) => so + year.minor, 0), gainMinor };
  }
  const before = { from: '0001-01-01', to: addDays(span.from, -1) };
  return { minor: schedule(thing, [before, span])[1]?.minor ?? 0, gainMinor };
}

/** Depreciation of a span of days, usually a fiscal year, by asset; only those with something in it. Minor units. */
export function depreciationIn(db: ReadDb, span: YearSpan): readonly DepreciationLine[] {
  return assetRows(db)
    .filter((row) => row.in_service_on <= span.to)
    .map((row) => {
      const thing = depreciable(row);
      const year = schedule(thing, ownYears(db, thing)).find(
        ({ from, to }) => from === span.from && to === span.to,
      );
      const { minor, gainMinor } = year ?? inSpan(db, thing, span);
      return { assetId: row.id, number: row.number, name: row.name, minor, gainMinor };
    })
    .filter(({ minor, gainMinor }) => minor !== 0 || gainMinor !== null);
}

const percent = (ppm: number): string => `${String(Math.round(ppm / 10_000))} %`;

/** What the published tables ask for and the assets do not follow, in plain sentences. */
export function tableWarnings(db: ReadDb, rows: readonly AssetRow[]): readonly string[] {
  const byTable = rows.filter((row) => row.method === 'table' && row.convention !== 'straight');
  const days = byTable.map((row) => row.in_service_on).toSorted();
  const [first, last] = [days[0], days.at(-1)];
  if (first === undefined || last === undefined) return [];
  return yearsBetween(db, first, last).flatMap((year) => {
    // What went in the year it came counts on neither side (Publication 946, from memory).
    const placed = byTable
      .filter(({ disposed_on: gone }) => gone === null || gone > year.to)
      .map((row) => ({ inServiceOn: row.in_service_on, basisMinor: basisOf(depreciable(row)) }));
    const mine = byTable.filter((row) => year.from <= row.in_service_on && row.in_service_on <= year.to);
    const short =
      mine.length > 0 && year.short
        ? [
            `${yearName(year)} is a short year; the published tables are for whole years of twelve months. Ask your preparer what holds instead.`,
          ]
        : [];
    const half = mine.some((row) => row.convention === 'halfYear');
    if (!needsMidQuarter(placed, year)) return short;
    const late = percent(lastQuarterPpm(placed, year));
    const said = `${late} of what was placed in service in ${yearName(year)} came in its last quarter, more than 40 %`;
    return half
      ? [
          ...short,
          `${said}: the tables by quarter are used then instead of the half-year ones. Ask your preparer.`,
        ]
      : short;
  });
}

/** Fiscal years: those there are, and how they begin. */
import type { FiscalRule, FiscalYear, FiscalYears } from '../../api/year.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, refused } from '../../api/errors.ts';
import {
  calendarYears,
  daysOf,
  fiscalYears,
  type RuledYear,
  withRule,
  yearName,
} from '../../domain/fiscal-year.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  bookedDays,
  dropFiscalRule,
  fiscalRuleRows,
  putFiscalRule,
} from '../../storage/queries/fiscal-years.ts';
import { closedThrough } from '../../storage/seal/open-books.ts';
import type { CommandContext } from '../context.ts';

/** Books of a workshop of our time; a typing mistake in the year must not make thousands of years. */
const [EARLIEST, LATEST] = ['1900-01-01', '2199-12-31'];

const ruleOf = (row: ReturnType<typeof fiscalRuleRows>[number]): FiscalRule => ({
  fromOn: row.from_on,
  kind: row.kind as FiscalRule['kind'],
  month: row.month,
  day: row.day,
});

const toYear = (year: RuledYear, today: string): FiscalYear => ({
  ...year,
  name: yearName(year),
  days: daysOf(year),
  state: year.to < today ? 'past' : year.from > today ? 'toCome' : 'running',
});

/** Rules as kept, and every year from the first to the one that runs, or holds the last entry. */
export function yearsOf(db: ReadDb, today: string): FiscalYears {
  const rules = fiscalRuleRows(db).map(ruleOf);
  const days = bookedDays(db);
  const first = days?.first ?? today;
  // With the clock set back the years with entries must not be lost from sight.
  const until = [today, days?.last ?? '', rules.at(-1)?.fromOn ?? ''].reduce((a, b) => (a > b ? a : b));
  const start = rules[0]?.fromOn;
  const inForce = start === undefined || first < start ? [calendarYears(first), ...rules] : rules;
  const years = fiscalYears(inForce, until);
  return { rules, years: years.map((year) => toYear(year, today)).toReversed() };
}

/** A closed year keeps the days it was closed with. */
function demandOpenYear(db: ReadDb, fromOn: string): void {
  const closed = closedThrough(db);
  if (closed !== undefined && fromOn <= closed)
    throw refused(
      `Years up to ${closed} are closed and keep their days. Choose a later day, or open the year again first.`,
      'fromOn',
    );
}

/** Says how years begin from a day on. @throws FaultError where two years would overlap */
export function saveRule(ctx: CommandContext, rule: Parsed<'year.saveRule'>): FiscalYears {
  if (rule.fromOn < EARLIEST || rule.fromOn > LATEST)
    throw invalid('Write a day between the years 1900 and 2199.', 'fromOn');
  demandOpenYear(ctx.db, rule.fromOn);
  const all = withRule(fiscalRuleRows(ctx.db).map(ruleOf), rule);
  if (!all.ok) throw invalid(all.message, 'fromOn');
  putFiscalRule(ctx.db, { from_on: rule.fromOn, kind: rule.kind, month: rule.month, day: rule.day });
  return yearsOf(ctx.db, ctx.clock.today());
}

/** Takes a beginning away again; the one before it then goes on. */
export function dropRule(ctx: CommandContext, { fromOn }: Parsed<'year.dropRule'>): FiscalYears {
  demandOpenYear(ctx.db, fromOn);
  if (dropFiscalRule(ctx.db, fromOn) === 0)
    throw refused('There is no beginning of a year on this day. Reload the page.');
  return yearsOf(ctx.db, ctx.clock.today());
}

/** The year as the rules have it, or one made of two days somebody asked for. */
export function yearFor(
  years: FiscalYears,
  span: { readonly from: string; readonly to: string },
  today: string,
): FiscalYear {
  const known = years.years.find((year) => year.from === span.from && year.to === span.to);
  return known ?? toYear({ ...span, short: true }, today);
}

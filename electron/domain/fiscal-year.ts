/**
 * Fiscal years: twelve months from any day, or 52 or 53 weeks that end on a weekday (26 CFR 1.441-2).
 * A rule holds from a day on, on which a year begins; that first year may be short. Days in, days out, no clock.
 */
import { addDays, dayOfWeek, dayParts, daysBetween, monthEnd } from './calendar.ts';
import { ok, type Outcome, refuse } from './outcome.ts';

/** How years begin from a day on; see `kind`. */
export interface YearRule {
  readonly fromOn: string;
  /**
   * `date`: each year begins on `month`/`day`. `last`: each ends on the last weekday `day` (Monday 1) of `month`;
   * `nearest`: on that weekday nearest to the end of `month`.
   */
  readonly kind: 'date' | 'last' | 'nearest';
  readonly month: number;
  readonly day: number;
}

/** First and last day, both in it. */
export interface YearSpan {
  readonly from: string;
  readonly to: string;
}

/** A fiscal year among its neighbours. */
export interface RuledYear extends YearSpan {
  /** It begins or ends in the middle of what would be its twelve months, or its 52 weeks. */
  readonly short: boolean;
}

const pad = (n: number, width: number): string => String(n).padStart(width, '0');

/** A day of a month that may be too short for it: then the month's last (29 February begins on the 28th). */
const dayIn = (year: number, month: number, day: number): string => {
  const first = `${pad(year, 4)}-${pad(month, 2)}-01`;
  const last = dayParts(monthEnd(first)).day;
  return `${first.slice(0, 8)}${pad(Math.min(day, last), 2)}`;
};

/** Where the weekday falls that a year of weeks ends on. @param nearest to the month's end, else the last in the month */
export function weekdayEnd(year: number, month: number, weekday: number, nearest: boolean): string {
  const end = monthEnd(dayIn(year, month, 1));
  const back = (((dayOfWeek(end) - weekday) % 7) + 7) % 7;
  // Three days after the month's end are nearer than four before it.
  return addDays(end, nearest && back > 3 ? 7 - back : -back);
}

/** The last day of the year of a rule that a calendar year names. */
const endIn = (rule: YearRule, year: number): string =>
  rule.kind === 'date'
    ? addDays(dayIn(year, rule.month, rule.day), -1)
    : weekdayEnd(year, rule.month, rule.day, rule.kind === 'nearest');

/** The first end of a year that does not lie before a day. */
function nextEnd(rule: YearRule, day: string): string {
  const { year } = dayParts(day);
  // A year of weeks may end a few days into the next calendar year.
  for (let at = year - 1; ; at += 1) {
    const end = endIn(rule, at);
    if (end >= day) return end;
  }
}

/** Calendar years, where nothing else was said. */
export const calendarYears = (fromOn: string): YearRule => ({
  fromOn: `${fromOn.slice(0, 4)}-01-01`,
  kind: 'date',
  month: 1,
  day: 1,
});

/**
 * Every fiscal year from the first rule's first day to the one that holds `until`, without a gap or an overlap.
 * @param rules in the order of their days; at least one
 */
export function fiscalYears(rules: readonly YearRule[], until: string): readonly RuledYear[] {
  const years: RuledYear[] = [];
  for (const [at, rule] of rules.entries()) {
    const next = rules[at + 1]?.fromOn;
    let from = rule.fromOn;
    while (from <= until && (next === undefined || from < next)) {
      const end = nextEnd(rule, from);
      const to = next !== undefined && end >= next ? addDays(next, -1) : end;
      const before = addDays(from, -1);
      years.push({ from, to, short: to !== end || nextEnd(rule, before) !== before });
      from = addDays(to, 1);
    }
  }
  return years;
}

/** The year a day lies in. */
export const yearOf = <Y extends YearSpan>(years: readonly Y[], day: string): Y | undefined =>
  years.find(({ from, to }) => from <= day && day <= to);

/** Days in it, both ends counted. */
export const daysOf = ({ from, to }: YearSpan): number => daysBetween(from, to) + 1;

/** `2025` for a calendar year, `2025/26` for one across two, with its days when it is short. */
export function yearName({ from, to, short }: RuledYear): string {
  const [first, last] = [from.slice(0, 4), to.slice(0, 4)];
  if (short) return first === last && to.endsWith('-12-31') ? `${first}, from ${from}` : `${from} to ${to}`;
  if (first === last) return first;
  // A year of weeks may end on the first days of January, or begin on the last of December.
  const almost = from.slice(5) >= '12-25' || to.slice(5) <= '01-06';
  return almost ? addDays(from, 182).slice(0, 4) : `${first}/${last.slice(2)}`;
}

const overlap = (rules: readonly YearRule[], fromOn: string): YearSpan | undefined => {
  const others = rules.filter((rule) => rule.fromOn < fromOn);
  if (others.length === 0) return undefined;
  const year = yearOf(fiscalYears(others, fromOn), fromOn);
  return year !== undefined && year.from !== fromOn ? year : undefined;
};

/**
 * Adds a rule to those there are, or puts it in the place of the one of the same day.
 * @returns the rules in order, or why the new one would make two years overlap
 */
export function withRule(rules: readonly YearRule[], rule: YearRule): Outcome<readonly YearRule[]> {
  const limit = rule.kind === 'date' ? dayParts(monthEnd(dayIn(2024, rule.month, 1))).day : 7;
  if (rule.day > limit)
    return refuse(
      rule.kind === 'date'
        ? 'There is no such day in that month. Choose another.'
        : 'Choose a day of the week.',
    );
  const others = rules.filter((one) => one.fromOn !== rule.fromOn);
  const year = overlap(others, rule.fromOn);
  if (year !== undefined)
    return refuse(
      `It would overlap the year from ${year.from} to ${year.to}. Let it begin on ${year.from} or on ${addDays(year.to, 1)}.`,
    );
  const all = [...others, rule].toSorted((a, b) => (a.fromOn < b.fromOn ? -1 : 1));
  const later = all.find((one) => one.fromOn > rule.fromOn);
  const clash =
    later === undefined
      ? undefined
      : overlap([...others.filter((one) => one.fromOn < rule.fromOn), rule], later.fromOn);
  if (later !== undefined && clash !== undefined)
    return refuse(
      `The years from ${later.fromOn} on were set before and would begin in the middle of one. Remove that beginning first.`,
    );
  return ok(all);
}

/**
 * The last day of the year that ended last.
 * @param years in any order
 * @returns undefined where none has ended yet
 */
export const endedLast = (years: readonly YearSpan[], today: string): string | undefined =>
  years
    .map(({ to }) => to)
    .filter((to) => to < today)
    .toSorted()
    .at(-1);

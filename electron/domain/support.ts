/** Times of support: one person, one level at a time, never two at once. */
import { monthEnd, monthsBetween } from './calendar.ts';
import { ok, refuse, type Outcome } from './outcome.ts';

/** A time at a level, from its first day to the first day without it. */
export interface SupportSpan {
  readonly id: string;
  readonly levelId: string;
  /** Null: since before the books. */
  readonly from: string | null;
  /** Null: still. */
  readonly until: string | null;
}

interface SupportLevel {
  readonly id: string;
  readonly rank: number;
  readonly perMonthMinor: number;
}

const startOf = (span: SupportSpan): string => span.from ?? '';
const endOf = (span: SupportSpan): string => span.until ?? '~';
const byStart = (a: SupportSpan, b: SupportSpan): number =>
  startOf(a) < startOf(b) ? -1 : startOf(a) > startOf(b) ? 1 : 0;

/** True on a day within the time. */
export const holdsOn = (span: SupportSpan, day: string): boolean => startOf(span) <= day && day < endOf(span);

/** The one time a day lies in. */
export const supportOn = <S extends SupportSpan>(spans: readonly S[], day: string): S | undefined =>
  spans.find((span) => holdsOn(span, day));

/** @returns the times in order, or what is wrong with them */
export function orderedSpans<S extends SupportSpan>(spans: readonly S[]): Outcome<readonly S[]> {
  const sorted = spans.toSorted(byStart);
  for (const [at, span] of sorted.entries()) {
    if (endOf(span) <= startOf(span)) return refuse('A time of support must end after the day it begins.');
    const next = sorted[at + 1];
    if (next !== undefined && startOf(next) < endOf(span)) {
      return refuse(
        `Two times of support would overlap, the later one from ${next.from ?? 'before these books'}. End the earlier one by then.`,
      );
    }
  }
  return ok(sorted);
}

/**
 * Puts a person on a level from a day on: the time that runs ends there, or changes its level when it began that day.
 * @param id of the new time, if one begins
 */
export function supportFrom(
  spans: readonly SupportSpan[],
  begin: { readonly id: string; readonly levelId: string; readonly from: string | null },
): Outcome<readonly SupportSpan[]> {
  const running = spans.find((span) => span.until === null);
  const others = spans.filter((span) => span !== running);
  if (running === undefined) return orderedSpans([...spans, { ...begin, until: null }]);
  if (running.levelId === begin.levelId) return refuse('They support at this level already.');
  if ((begin.from ?? '') < startOf(running))
    return refuse(`They support since ${running.from ?? ''} already. Write a later day, or mend that time.`);
  if (running.from === begin.from) return ok([...others, { ...running, levelId: begin.levelId }]);
  return orderedSpans([...others, { ...running, until: begin.from }, { ...begin, until: null }]);
}

/** Days on which something begins or ends, in order. */
const edges = (spans: readonly SupportSpan[]): readonly string[] =>
  [...new Set(spans.flatMap((span) => [startOf(span), endOf(span)]))].toSorted();

/**
 * The times of two entries that turn out to be one person: each day once, at the higher of the two levels.
 * @param rankOf of a level
 * @param newId for a time that is cut in two
 */
export function unitedSpans(
  spans: readonly SupportSpan[],
  rankOf: (levelId: string) => number,
  newId: () => string,
): readonly SupportSpan[] {
  const days = edges(spans);
  const used = new Set<string>();
  const united: SupportSpan[] = [];
  days.slice(0, -1).forEach((from, at) => {
    const until = days[at + 1] ?? '~';
    const best = spans
      .filter((span) => startOf(span) <= from && until <= endOf(span))
      .toSorted((a, b) => rankOf(b.levelId) - rankOf(a.levelId))[0];
    if (best === undefined) return;
    const end = until === '~' ? null : until;
    const last = united.at(-1);
    if (last?.levelId === best.levelId && last.until === from) {
      united[united.length - 1] = { ...last, until: end };
      return;
    }
    const id = used.has(best.id) ? newId() : best.id;
    used.add(id);
    united.push({ id, levelId: best.levelId, from: from === '' ? null : from, until: end });
  });
  return united;
}

interface SupportMonth {
  /** First day of the month. */
  readonly month: string;
  /** The day counted on: the month's last, or today in the month that runs. */
  readonly on: string;
  readonly count: number;
  /** What those counted pay a month. */
  readonly minor: number;
}

/** How many supported at the end of each month, and what they paid. */
export function supportByMonth(
  spans: readonly SupportSpan[],
  levels: readonly SupportLevel[],
  months: { readonly from: string; readonly to: string },
): readonly SupportMonth[] {
  const price = new Map(levels.map((level) => [level.id, level.perMonthMinor]));
  return monthsBetween(months.from, months.to).map((month) => {
    const end = monthEnd(month);
    const on = end > months.to ? months.to : end;
    const then = spans.filter((span) => holdsOn(span, on));
    const minor = then.reduce((sum, span) => sum + (price.get(span.levelId) ?? 0), 0);
    return { month, on, count: then.length, minor };
  });
}

/** How many are at each level on a day. */
export function headsByLevel(spans: readonly SupportSpan[], day: string): ReadonlyMap<string, number> {
  const heads = new Map<string, number>();
  for (const span of spans)
    if (holdsOn(span, day)) heads.set(span.levelId, (heads.get(span.levelId) ?? 0) + 1);
  return heads;
}

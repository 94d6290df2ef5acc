/** Hours that belong to no knife: 58 h in the second half of 2024, 148 h in 2025. */
import type { WorkKind } from '../../api/hours.ts';
import { allocate } from '../../domain/integers.ts';

interface OtherWork {
  readonly kind: WorkKind;
  /** Hours of the whole year 2025. */
  readonly hours: number;
  readonly weekday: number;
}

export const otherWork: readonly OtherWork[] = [
  { kind: 'content', hours: 62, weekday: 1 },
  { kind: 'messages', hours: 34, weekday: 3 },
  { kind: 'machines', hours: 22, weekday: 5 },
  { kind: 'cleaning', hours: 18, weekday: 5 },
  { kind: 'buying', hours: 12, weekday: 1 },
];

/** Some whole weeks with the minutes of each kind in them. */
export interface OtherSpan {
  readonly monday: string;
  readonly weeks: number;
  readonly minutesOf: Readonly<Partial<Record<WorkKind, number>>>;
}

const HALF_YEAR_HOURS = 58;
const byKind = (minutes: readonly number[]): OtherSpan['minutesOf'] =>
  Object.fromEntries(otherWork.map(({ kind }, at) => [kind, minutes[at] ?? 0]));

export const otherSpans: readonly OtherSpan[] = [
  {
    monday: '2024-07-01',
    weeks: 26,
    minutesOf: byKind(
      allocate(
        HALF_YEAR_HOURS * 60,
        otherWork.map((work) => work.hours),
      ),
    ),
  },
  // From the first Monday of the year; the days before it were a holiday.
  { monday: '2025-01-06', weeks: 51, minutesOf: byKind(otherWork.map((work) => work.hours * 60)) },
];

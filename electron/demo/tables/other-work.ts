/** Hours that belong to no knife, July to December 2024: 58 h, in the proportions of a whole year. */
import type { WorkKind } from '../../api/hours.ts';

export const otherMinutes = 58 * 60;
/** Whole weeks from the first Monday of the half year. */
export const otherWeeks = 26;

export const otherWork: readonly {
  readonly kind: WorkKind;
  readonly weight: number;
  readonly weekday: number;
}[] = [
  { kind: 'content', weight: 62, weekday: 1 },
  { kind: 'messages', weight: 34, weekday: 3 },
  { kind: 'machines', weight: 22, weekday: 5 },
  { kind: 'cleaning', weight: 18, weekday: 5 },
  { kind: 'buying', weight: 12, weekday: 1 },
];

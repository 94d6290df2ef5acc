/** What an hour costs: the maker's own, a helper's, and the overhead of an hour at the bench. */
import type { ReadDb } from '../../storage/db.ts';
import { listRates } from '../../storage/queries/costs.ts';
import { personRates } from '../../storage/queries/people.ts';

/** What an hour costs from a day on, in micro-currency. */
export interface HourRate {
  readonly id: string;
  readonly kind: 'labour' | 'overhead';
  /** Whose hour; null for the maker's own and for the overhead. */
  readonly personId: string | null;
  readonly from_date: string;
  readonly per_hour_micro: number;
  readonly note: string;
}

/** Every rate, newest first within each kind and person. */
export const hourRates = (db: ReadDb): HourRate[] => [
  ...listRates(db).map(({ id, kind, from_date, per_hour_micro, note }) => ({
    id,
    kind: kind as HourRate['kind'],
    personId: null,
    from_date,
    per_hour_micro,
    note,
  })),
  ...personRates(db).map(({ person_id: personId, from_date, per_hour_micro }) => ({
    id: `${personId} ${from_date}`,
    kind: 'labour' as const,
    personId,
    from_date,
    per_hour_micro,
    note: '',
  })),
];

/** Whose time it was, and on which day. */
export interface WorkedOn {
  readonly on_date: string;
  readonly person_id: string | null;
}

/** The rate in force: the one with the latest start not after the day. Overhead is the same whoever worked. */
export function rateOn(
  rates: readonly HourRate[],
  kind: HourRate['kind'],
  work: WorkedOn,
): HourRate | undefined {
  const whose = kind === 'overhead' ? null : work.person_id;
  return rates.find(
    (rate) => rate.kind === kind && rate.personId === whose && rate.from_date <= work.on_date,
  );
}

/** Knives as they were offered: from which day, for how long, and to whom they went. */
import { daysBetween } from '../../domain/calendar.ts';
import type { OfferedOne } from '../../domain/price-review.ts';
import type { ReadDb } from '../../storage/db.ts';
import { offeredKnives, type OfferedRecord } from '../../storage/queries/offered.ts';
import type { Clock } from '../context.ts';
import { millisecondsBetween } from '../hours/instants.ts';

/** A finished knife with how its offer went. */
export interface Offer extends OfferedOne {
  readonly record: OfferedRecord;
  /** Made for an order, or sold to one: it was never offered to all. */
  readonly forOrder: boolean;
  /** Minutes from the opening of its release to the buyer's word; null otherwise. */
  readonly minutes: number | null;
}

const MS_OF_MINUTE = 60_000;

/** Days it was with buyers who gave it back: nobody could buy it then. */
const daysAway = ({ away }: OfferedRecord, until: string): number =>
  (JSON.parse(away) as readonly (readonly [from: string, to: string])[])
    .filter(([, to]) => to <= until)
    .reduce((sum, [from, to]) => sum + Math.max(0, daysBetween(from, to)), 0);

function toOffer(record: OfferedRecord, clock: Clock): Offer {
  const opened = record.early_from === null ? null : clock.localDay(record.early_from);
  const offeredOn = opened !== null && opened > record.finished_on ? opened : record.finished_on;
  const until = record.sold_on ?? clock.today();
  const [rule, at] = (record.claimed ?? '').split(' ');
  const minutes =
    at === undefined || record.early_from === null
      ? null
      : Math.max(0, Math.round(millisecondsBetween(record.early_from, at) / MS_OF_MINUTE));
  return {
    record,
    modelId: record.model_id,
    offeredOn,
    soldOn: record.sold_on,
    days: Math.max(0, daysBetween(offeredOn, until) - daysAway(record, until)),
    shown: record.release_id !== null,
    early: minutes !== null && rule !== 'public',
    forOrder: record.order_id !== null || record.for_order === 1,
    minutes,
  };
}

/** Every finished knife with how its offer went, oldest first. */
export const offersOf = (db: ReadDb, clock: Clock): Offer[] =>
  offeredKnives(db).map((record) => toOffer(record, clock));

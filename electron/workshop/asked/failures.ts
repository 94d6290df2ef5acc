/** Use-case: what lost knives really cost, and at which stage. */
import type { Failures, LostKnife } from '../../api/asked.ts';
import { invalid } from '../../api/errors.ts';
import { daysBetween } from '../../domain/calendar.ts';
import { groupBy } from '../../domain/groups.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { endedBetween, lostKnives } from '../../storage/queries/asked.ts';
import { orderTagOf } from '../../storage/queries/orders.ts';
import { deliveredPromises } from '../../storage/queries/promises.ts';
import { directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';
import { hourWorth } from '../ways/hour-worth.ts';

interface Span {
  readonly from: string;
  readonly to: string;
}

const MINUTES_OF_HOUR = 60;

function knivesOf(db: ReadDb, span: Span, decimals: number): LostKnife[] {
  const lost = lostKnives(db, span);
  const costs = directCosts(
    db,
    lost.map((row) => row.id),
    decimals,
  );
  const promises = new Map(deliveredPromises(db).map((row) => [row.id, row]));
  return lost.map((row) => {
    const promise = promises.get(row.order_id ?? '');
    const late = promise?.promised_on == null ? null : daysBetween(promise.promised_on, promise.ended_on);
    return {
      buildId: row.id,
      serial: row.serial,
      modelName: row.model_name,
      on: row.ended_on,
      stage: row.stage ?? '',
      reason: row.end_reason,
      costMinor: costs.get(row.id)?.directMinor ?? 0,
      minutes: row.minutes,
      orderId: row.order_id,
      orderTag: row.order_number === null ? null : orderTagOf(row.order_number),
      lateDays: late === null ? null : Math.max(0, late),
    };
  });
}

/** Knives lost in some days, one by one and by the stage they had come to. */
export function failuresIn(db: ReadDb, span: Span, today: string): Failures {
  if (span.from > span.to) throw invalid('The period ends before it begins. Change one of the dates.', 'to');
  const { decimals } = houseOf(db);
  const knives = knivesOf(db, span, decimals);
  const minutes = sumOf(knives, (knife) => knife.minutes);
  const worth = hourWorth(db, today, decimals);
  return {
    knives,
    stages: [...groupBy(knives, (knife) => knife.stage)]
      .map(([stage, own]) => ({
        stage,
        knives: own.length,
        costMinor: sumOf(own, (knife) => knife.costMinor),
        minutes: sumOf(own, (knife) => knife.minutes),
      }))
      .toSorted((a, b) => b.costMinor - a.costMinor),
    ended: endedBetween(db, span),
    costMinor: sumOf(knives, (knife) => knife.costMinor),
    minutes,
    hoursWorthMinor: mulDiv(worth.minor, minutes, MINUTES_OF_HOUR),
    hoursWorthHow: worth.how,
  };
}

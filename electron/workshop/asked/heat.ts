/** Use-case: own heat treatment of a blade against sending it out. */
import type { HeatCompare } from '../../api/asked.ts';
import type { Parsed } from '../../api/contract.ts';
import { addMonths } from '../../domain/calendar.ts';
import { mulDiv, roundHalfAway, sumOf } from '../../domain/integers.ts';
import { microToMinor } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { hardenedSince } from '../../storage/queries/asked.ts';
import { directCosts } from '../costs/direct.ts';
import { houseOf } from '../costs/house.ts';
import { hourWorth } from '../ways/hour-worth.ts';

/** Hardening and tempering; straightening stays in the workshop either way. */
const STAGES = ['HTA'];
const MINUTES_OF_HOUR = 60;
const MONTHS = 12;

/** What hardening one blade took in the last twelve months, against a fee and a parcel. */
export function compareHeat(db: ReadDb, asked: Parsed<'asked.heat'>, today: string): HeatCompare {
  const { decimals } = houseOf(db);
  const knives = hardenedSince(db, addMonths(today, -MONTHS), STAGES);
  const each = (sum: number): number => (knives.length === 0 ? 0 : roundHalfAway(sum, knives.length));
  const costs = directCosts(
    db,
    knives.map((knife) => knife.id),
    decimals,
  );
  const lost = knives.filter((knife) => knife.lost === 1);
  const worth = hourWorth(db, today, decimals);
  const time = (minutes: number): number => mulDiv(worth.minor, minutes, MINUTES_OF_HOUR);
  const energyMinor = each(sumOf(knives, (knife) => costs.get(knife.id)?.energyMinor ?? 0));
  const minutes = each(sumOf(knives, (knife) => knife.minutes));
  const ownMinor = energyMinor + time(minutes);
  const parcelMinor = roundHalfAway(asked.postageMinor + time(asked.packMinutes), asked.blades);
  return {
    blades: knives.length,
    energyMinor,
    energyHow: 'all fuel and current on the sheets of these knives, that of forging too',
    minutes,
    hourMinor: worth.minor,
    hourHow: worth.how,
    ownMinor,
    lossMinor: each(sumOf(lost, (knife) => microToMinor(knife.cost_micro, decimals))),
    lost: lost.length,
    outMinor: asked.feeMinor + parcelMinor,
    evenFeeMinor: Math.max(0, ownMinor - parcelMinor),
  };
}

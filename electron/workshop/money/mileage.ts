/** Use-cases: trips for the workshop and what a mile or a kilometre costs. */
import type { Mileage, MileageRateRow, Trip } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import { missing, refused } from '../../api/errors.ts';
import { sumOf } from '../../domain/integers.ts';
import { type DistanceUnit, rateOn, tripAmount } from '../../domain/mileage.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  insertMileage,
  mileageRates,
  type MileageRow,
  mileageRow,
  mileageRows,
  putMileageRate,
  restateMileage,
} from '../../storage/queries/money.ts';
import type { CommandContext, QueryContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { needWorkshop } from '../workshop/need.ts';
import { demandSound, demandStanding } from './checks.ts';

const toTrip = (row: MileageRow): Trip => ({
  id: row.id,
  on: row.on_date,
  distanceMilli: row.distance_milli,
  unit: row.unit as DistanceUnit,
  purpose: row.purpose,
  amountMinor: row.amount_minor,
  reason: row.reason,
  reversesId: row.reverses_id,
  reversedById: row.reversed_by_id,
});

const ratesOf = (db: ReadDb): readonly MileageRateRow[] =>
  mileageRates(db).map((row) => ({
    from: row.from_on,
    unit: row.unit as DistanceUnit,
    perUnitMicro: row.per_unit_micro,
    note: row.note,
  }));

const ALL = { from: '0000-00-00', to: '9999-99-99' };

/** Trips of a span of days, the latest first, with the rates there are. */
export function mileage(ctx: QueryContext, { from, to }: Parsed<'money.mileage'>): Mileage {
  const trips = mileageRows(ctx.db, { from: from ?? ALL.from, to: to ?? ALL.to }).map(toTrip);
  const distances = (['mi', 'km'] as const).flatMap((unit) => {
    const mine = trips.filter((trip) => trip.unit === unit);
    return mine.length === 0 ? [] : [{ unit, milli: sumOf(mine, (trip) => trip.distanceMilli) }];
  });
  return {
    trips,
    amountMinor: sumOf(trips, (trip) => trip.amountMinor),
    distances,
    rates: ratesOf(ctx.db),
    unit: needWorkshop(ctx.db).lengthHabit === 'inch' ? 'mi' : 'km',
  };
}

function needTrip(db: ReadDb, id: string): MileageRow {
  const row = mileageRow(db, id);
  if (row === undefined) throw missing('This trip is not in the books.');
  return row;
}

/** Books a trip at the rate in force on its day. */
export function addTrip(ctx: CommandContext, input: Parsed<'money.addTrip'>): Trip {
  demandSound(ctx, { on: input.on }, {});
  const rate = rateOn(ratesOf(ctx.db), input.on);
  if (rate === undefined)
    throw refused(
      `No rate is set for ${input.on}. Set what a mile or a kilometre costs first, with a start on or before that day.`,
      'on',
    );
  const id = ctx.newId();
  const { unit, distanceMilli, purpose } = input;
  insertMileage(ctx.db, {
    id,
    on_date: input.on,
    distance_milli: distanceMilli,
    unit,
    purpose,
    amount_minor: tripAmount({ milli: distanceMilli, unit }, rate, houseOf(ctx.db).decimals),
    reason: '',
    reverses_id: null,
  });
  return toTrip(needTrip(ctx.db, id));
}

/** Takes a trip back by a row of the opposite distance. */
export function takeBackTrip(ctx: CommandContext, input: Parsed<'money.takeBackTrip'>): Trip {
  const before = needTrip(ctx.db, input.id);
  demandStanding(ctx, before, { of: before.on_date, on: input.on });
  const id = ctx.newId();
  insertMileage(ctx.db, {
    id,
    on_date: input.on,
    distance_milli: -before.distance_milli,
    unit: before.unit,
    purpose: before.purpose,
    amount_minor: 0 - before.amount_minor,
    reason: input.reason,
    reverses_id: before.id,
  });
  return toTrip(needTrip(ctx.db, id));
}

/** Sets a rate; the trips it now holds for come to what it says. A row taking a trip back follows that trip. */
export function setMileageRate(
  ctx: CommandContext,
  input: Parsed<'money.setMileageRate'>,
): { readonly restated: number } {
  const { decimals } = houseOf(ctx.db);
  putMileageRate(ctx.db, {
    from_on: input.from,
    unit: input.unit,
    per_unit_micro: input.perUnitMicro,
    note: input.note,
  });
  const rates = ratesOf(ctx.db);
  const next = rates.map(({ from }) => from).filter((from) => from > input.from);
  const until = next.toSorted()[0] ?? ALL.to;
  const rows = mileageRows(ctx.db, ALL);
  const days = new Map(rows.map((row) => [row.id, row.on_date]));
  let restated = 0;
  for (const row of rows) {
    const day = days.get(row.reverses_id ?? row.id) ?? row.on_date;
    if (day < input.from || day >= until) continue;
    const minor = tripAmount({ milli: row.distance_milli, unit: row.unit as DistanceUnit }, input, decimals);
    if (minor === row.amount_minor) continue;
    restateMileage(ctx.db, row.id, minor);
    restated += 1;
  }
  return { restated };
}

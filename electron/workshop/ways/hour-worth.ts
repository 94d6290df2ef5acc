/** What an hour spent on this knife could earn elsewhere: what the bench earned lately, else the maker's own rate. */
import { microToMinor } from '../../domain/money.ts';
import { quantilesOf } from '../../domain/quantiles.ts';
import { TOO_FEW } from '../../domain/spread.ts';
import type { ReadDb } from '../../storage/db.ts';
import { listSales } from '../../storage/queries/selling.ts';
import { hourRates } from '../costs/hour-rates.ts';
import { saleRows } from '../selling/sale-rows.ts';

/** As many sales as tell what the bench earns now. */
const LAST_SALES = 10;
const MINUTES_OF_HOUR = 60;

export interface HourWorth {
  /** Minor unit an hour. */
  readonly minor: number;
  readonly how: string;
}

/** The maker's own rate on a day, minor unit an hour. */
export const rateOn = (db: ReadDb, on: string, decimals: number): number =>
  microToMinor(
    hourRates(db).find((rate) => rate.kind === 'labour' && rate.personId === null && rate.from_date <= on)
      ?.per_hour_micro ?? 0,
    decimals,
  );

/**
 * What an hour is worth elsewhere. The rate a maker would like is not what the hour brings on the next knife; ranking
 * by it would advise to throw good blades away in every workshop that earns less than it wishes.
 */
export function hourWorth(db: ReadDb, on: string, decimals: number): HourWorth {
  const sales = listSales(db, { to: on }, LAST_SALES, 0);
  const hours = saleRows(db, sales)
    .filter((sale) => sale.minutes > 0 && !sale.takenBack)
    .map((sale) => (sale.contributionMinor * MINUTES_OF_HOUR) / sale.minutes);
  if (hours.length < TOO_FEW)
    return {
      minor: rateOn(db, on, decimals),
      how: 'your own rate; too few sales to say what your hour earns',
    };
  const [middle = 0] = quantilesOf(hours, [0.5]);
  return {
    minor: Math.max(0, Math.round(middle)),
    how: `what an hour at your bench earned on the last ${String(hours.length)} knives sold, the middle of them`,
  };
}

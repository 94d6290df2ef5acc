/** What the workshop was set up with, as every figure needs it. */
import { refused } from '../../api/errors.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import type { ReadDb } from '../../storage/db.ts';
import { workshopRow } from '../../storage/queries/workshop.ts';

export interface House {
  readonly shop: NonNullable<ReturnType<typeof workshopRow>>;
  /** ISO 4217 code. */
  readonly currency: string;
  /** Decimals of its minor unit. */
  readonly decimals: number;
}

/** @throws FaultError before the workshop is set up */
export function houseOf(db: ReadDb): House {
  const shop = workshopRow(db);
  if (!shop) throw refused('Set up the workshop first.');
  return { shop, currency: shop.currency, decimals: decimalsOf(shop.currency) };
}

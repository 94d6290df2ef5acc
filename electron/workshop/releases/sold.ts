/** What a release asks of a sale, and what it remembers of it. */
import type { ReadDb } from '../../storage/db.ts';
import type { Clock, CommandContext } from '../context.ts';

/** A sale that is about to be booked. */
export interface WantedSale {
  readonly buildId: string;
  readonly buyerId: string;
  /** Local day of the sale. */
  readonly on: string;
}

/**
 * Lets a sale through, or says why the release or a hold stands in its way. Writes nothing; a knife of no release and
 * without a hold always passes.
 * @throws FaultError `refused` with the field `buyerId` or `buildId`
 */
export function admitSale(_ctx: { readonly db: ReadDb; readonly clock: Clock }, _sale: WantedSale): void {
  // Nothing is released yet.
}

/** Remembers a sale that was just written: its release, the end of a hold, a line in the fairness log. */
export function noteSale(_ctx: CommandContext, _sale: WantedSale & { readonly saleId: string }): void {
  // Nothing is released yet.
}

/** Who buys knives. */
import { invalid, missing } from '../../api/errors.ts';
import type { Parsed } from '../../api/contract.ts';
import type { Buyer, BuyerRow } from '../../api/selling.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buyerRecord, type BuyerRecord, insertBuyer, updateBuyer } from '../../storage/queries/selling.ts';
import { beginSupport, endSupport } from '../../storage/queries/supporters.ts';
import { taxPlaceRow } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';

const toBuyer = (record: BuyerRecord): Buyer => ({
  id: record.id,
  name: record.name,
  email: record.email,
  phone: record.phone,
  address: record.address,
  country: record.country,
  taxPlaceId: record.tax_place_id,
  supporter: record.supporting > 0,
  note: record.note,
  archived: record.archived === 1,
});

/** A buyer with what they bought so far. */
export const toBuyerRow = (record: BuyerRecord): BuyerRow => ({
  ...toBuyer(record),
  bought: record.bought,
  spentMinor: record.spent,
  lastBoughtOn: record.last_on,
});

/** @throws FaultError when the buyer is not in the books */
export function needBuyer(db: ReadDb, id: string): BuyerRecord {
  const record = buyerRecord(db, id);
  if (!record) throw missing('This buyer is not in the books. Choose another or enter them first.');
  return record;
}

/** Begins or ends a supporter's time, where the tick says otherwise than the books. */
function keepSupporter(ctx: CommandContext, buyerId: string, wanted: boolean): void {
  const today = ctx.clock.today();
  const is = needBuyer(ctx.db, buyerId).supporting > 0;
  if (wanted && !is) beginSupport(ctx.db, { id: ctx.newId(), buyer_id: buyerId, from_on: today });
  if (!wanted && is) endSupport(ctx.db, buyerId, today);
}

/** Enters or changes a buyer. */
export function saveBuyer(ctx: CommandContext, input: Parsed<'selling.saveBuyer'>): Buyer {
  if (input.taxPlaceId !== null && !taxPlaceRow(ctx.db, input.taxPlaceId)) {
    throw invalid('This tax place is not in the books. Choose another.', 'taxPlaceId');
  }
  const id = input.id ?? ctx.newId();
  const row = {
    id,
    name: input.name,
    email: input.email,
    phone: input.phone,
    address: input.address,
    country: input.country,
    tax_place_id: input.taxPlaceId,
    note: input.note,
    archived: input.archived ? 1 : 0,
  };
  if (input.id === undefined) insertBuyer(ctx.db, row);
  else if (updateBuyer(ctx.db, row) === 0) throw missing('This buyer is not in the books any more.');
  keepSupporter(ctx, id, input.supporter);
  return toBuyer(needBuyer(ctx.db, id));
}

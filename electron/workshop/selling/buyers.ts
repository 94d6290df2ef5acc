/** Who buys knives. */
import { missing, refused } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { buyerRecord, type BuyerRecord } from '../../storage/queries/selling.ts';

/**
 * One buyer; of an entry that was put together with another, the one that was kept.
 * @throws FaultError when the buyer is not in the books
 */
export function needBuyer(db: ReadDb, id: string): BuyerRecord {
  const record = buyerRecord(db, id);
  const mergedInto = record?.merged_into_id ?? null;
  const kept = mergedInto === null ? record : buyerRecord(db, mergedInto);
  if (!kept) throw missing('This buyer is not in the books. Choose another or enter them first.');
  return kept;
}

/**
 * A buyer something new is begun with.
 * @throws FaultError of the field `buyerId` when the person was forgotten
 */
export function needCustomer(db: ReadDb, id: string): BuyerRecord {
  const buyer = needBuyer(db, id);
  if (buyer.erased_on !== null)
    throw refused(
      `This person was forgotten on ${buyer.erased_on}. Enter them anew if they come back.`,
      'buyerId',
    );
  return buyer;
}

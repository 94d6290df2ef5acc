/** Who buys knives. */
import { missing } from '../../api/errors.ts';
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

/** What a difference changes in the lots of one line. */
import { type CountChange, type CountedLot, countChanges } from '../../domain/consumables.ts';
import { sumOf } from '../../domain/integers.ts';
import { type Outcome, refuse } from '../../domain/outcome.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lotSums, receiptTakenBack, tagOf } from '../../storage/queries/lots.ts';
import type { LineLot, LineRow } from '../../storage/queries/stocktakes.ts';
import { describer } from '../stock/views.ts';

/** Lots as a count sees them: found ones come in at what the lot cost, or at the moving average. */
function toCounted(db: ReadDb, line: LineRow, lots: readonly LineLot[]): CountedLot[] {
  const all = line.costing === 'average' ? lotSums(db, line.item_id) : [];
  const pool = {
    priceMicro: sumOf(all, (lot) => lot.value_left_micro),
    priceQty: sumOf(all, (lot) => lot.qty_left),
  };
  return lots.map((lot, order) => ({
    id: lot.id,
    order,
    qtyLeft: lot.qty_left,
    valueLeftMicro: lot.value_left_micro,
    qtyReceived: lot.qty_received,
    ...(pool.priceQty > 0 ? pool : { priceMicro: lot.value_received_micro, priceQty: lot.qty_received }),
  }));
}

/**
 * The movements that bring the books of the day to what was counted. What is missing leaves what is still there now, at
 * what that is worth: what was used since has been charged already.
 * @param differenceQty base units, found less than the books: below zero
 */
export function changesOfLine(
  db: ReadDb,
  line: LineRow,
  lots: readonly LineLot[],
  differenceQty: number,
): Outcome<readonly CountChange[]> {
  const leftQty = sumOf(lots, (lot) => lot.qty_left);
  if (leftQty + differenceQty < 0) {
    const write = describer(line);
    return refuse(
      `Line ${line.number}, ${line.item_name}: ${write(-differenceQty)} missing, but after what was used since only ${write(leftQty)} is left. Count again, or take back what was booked since.`,
    );
  }
  const changes = countChanges(toCounted(db, line, lots), leftQty + differenceQty);
  if (!changes.ok) return changes;
  const gone = changes.value.find((change) => change.qty > 0 && receiptTakenBack(db, change.lotId));
  if (gone === undefined) return changes;
  const lot = lots.find((one) => one.id === gone.lotId);
  return refuse(
    `Line ${line.number}: the purchase of ${lot === undefined ? line.item_name : tagOf(lot.number)} was taken back. Enter a new purchase instead.`,
  );
}

/** What a difference changes in the lots of one line. */
import { type CountChange, type CountedLot, countChanges } from '../../domain/consumables.ts';
import { sumOf } from '../../domain/integers.ts';
import { ok, type Outcome, refuse } from '../../domain/outcome.ts';
import { type Draw, leavable } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { heldOfItemOn } from '../../storage/queries/stock-value.ts';
import { lowestSince, receiptTakenBack, tagOf } from '../../storage/queries/lots.ts';
import type { LineLot, LineRow } from '../../storage/queries/stocktakes.ts';
import { worthOnItsDay } from '../stock/late-average.ts';
import { describer } from '../stock/views.ts';

/** What a line's difference changes, and whether the lots must be drawn level before it is booked. */
export interface LineChanges {
  readonly changes: readonly CountChange[];
  readonly needRoom: boolean;
}

/** Lots as a count of a day sees them: found ones come in at what the lot cost, or at that day's moving average. */
function toCounted(db: ReadDb, line: LineRow, lots: readonly LineLot[], on: string): CountedLot[] {
  const day = line.costing === 'average' ? heldOfItemOn(db, line.item_id, on) : { qty: 0, valueMicro: 0 };
  const averaged = day.qty > 0 && day.valueMicro >= 0;
  return lots.map((lot, order) => ({
    id: lot.id,
    order,
    qtyLeft: lot.qty_left,
    mostQty: lowestSince(db, lot.id, on),
    valueLeftMicro: lot.value_left_micro,
    qtyReceived: lot.qty_received,
    priceMicro: averaged ? day.valueMicro : lot.value_received_micro,
    priceQty: averaged ? day.qty : lot.qty_received,
  }));
}

/** What is missing, as what leaves a lot; and what leaves one, as what a count changes. */
export const turned = ({ lotId, qty, valueMicro }: Draw): CountChange => ({
  lotId,
  qty: 0 - qty,
  valueMicro: 0 - valueMicro,
});

/** What is missing of an item valued at the moving average costs what it was worth on the day that is counted. */
function atDaysAverage(
  db: ReadDb,
  line: LineRow,
  changes: readonly CountChange[],
  on: string,
): Outcome<LineChanges> {
  const worth = worthOnItsDay(db, line.item_id, on, changes.map(turned));
  if (!worth.ok) return refuse(`Line ${line.number}, ${line.item_name}: ${worth.message}`);
  const { draws, needRoom } = worth.value;
  return ok({ changes: draws.map(turned), needRoom });
}

/**
 * The movements that bring the books of a day to what was counted. What is missing leaves what is still there now, at
 * what that is worth, or at the moving average of the day: what was used since has been charged already.
 * @param differenceQty base units, found less than the books: below zero
 * @param on the day that is counted
 */
export function changesOfLine(
  db: ReadDb,
  line: LineRow,
  lots: readonly LineLot[],
  differenceQty: number,
  on: string,
): Outcome<LineChanges> {
  const counted = toCounted(db, line, lots, on);
  const freeQty = sumOf(counted, leavable);
  if (freeQty + differenceQty < 0) {
    const write = describer(line);
    return refuse(
      `Line ${line.number}, ${line.item_name}: ${write(-differenceQty)} missing, but after what was used since only ${write(freeQty)} is left. Count again, or take back what was booked since.`,
    );
  }
  const changes = countChanges(counted, sumOf(counted, (lot) => lot.qtyLeft) + differenceQty);
  if (!changes.ok) return changes;
  if (line.costing === 'average' && differenceQty < 0) return atDaysAverage(db, line, changes.value, on);
  const gone = changes.value.find((change) => change.qty > 0 && receiptTakenBack(db, change.lotId));
  if (gone === undefined) return ok({ changes: changes.value, needRoom: false });
  const lot = lots.find((one) => one.id === gone.lotId);
  return refuse(
    `Line ${line.number}: the purchase of ${lot === undefined ? line.item_name : tagOf(lot.number)} was taken back. Enter a new purchase instead.`,
  );
}

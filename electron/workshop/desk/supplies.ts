/** What the bench says about supplies: what open knives lack, what should have come, oil that is due. */
import type { BenchDay } from '../../api/desk.ts';
import type { ReadDb } from '../../storage/db.ts';
import { suppliesDue as dueOrders } from '../../storage/queries/buying.ts';
import { buyingGroups } from '../buying/list.ts';
import { orderTag } from '../buying/orders.ts';
import { describer } from '../stock/views.ts';

/** Things short for knives shown on the bench; the buying list has them all. */
const SHOWN = 12;

/** What planned and open knives lack on the rack, the most urgent first. */
export function shortFor(db: ReadDb, today: string): BenchDay['shortFor'] {
  return buyingGroups(db, today)
    .flatMap((group) => group.rows)
    .filter((row) => row.wantedOn !== null)
    .sort((a, b) => (a.orderBy ?? '').localeCompare(b.orderBy ?? ''))
    .slice(0, SHOWN)
    .map((row) => ({
      itemId: row.itemId,
      itemName: row.itemName,
      shortWords: describer({ form: row.form, unit: row.unit, piece_word: row.pieceWord })(row.shortQty),
      serials: [...new Set(row.for.map((need) => need.serial))],
      orderBy: row.orderBy,
      late: row.late,
    }));
}

/** Orders at suppliers that should be here by now. */
export const suppliesDue = (db: ReadDb, today: string): BenchDay['suppliesDue'] =>
  dueOrders(db, today).map((row) => ({
    orderId: row.id,
    tag: orderTag(row.number),
    supplierName: row.supplier_name,
    dueOn: row.due_on ?? today,
  }));

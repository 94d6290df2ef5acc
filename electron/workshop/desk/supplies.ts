/** What the bench says about supplies: what open knives lack, what should have come, oil that is due. */
import type { BenchDay } from '../../api/desk.ts';
import { formatMicro } from '../../domain/money.ts';
import type { ReadDb } from '../../storage/db.ts';
import { suppliesDue as dueOrders } from '../../storage/queries/buying.ts';
import type { QueryContext } from '../context.ts';
import { buyingGroups } from '../buying/list.ts';
import { orderTag } from '../buying/orders.ts';
import { baths } from '../fires/baths.ts';
import { describer } from '../stock/views.ts';
import { needWorkshop } from '../workshop/need.ts';

/** Things short for knives shown on the bench; the buying list has them all. */
const SHOWN = 12;

/** What planned and open knives lack on the rack, the most urgent first. */
export function shortFor(db: ReadDb, today: string): BenchDay['shortFor'] {
  const { currency } = needWorkshop(db);
  return buyingGroups(db, today)
    .flatMap((group) => group.rows)
    .filter((row) => row.wantedOn !== null)
    .sort((a, b) => (a.orderBy ?? '').localeCompare(b.orderBy ?? ''))
    .slice(0, SHOWN)
    .map((row) => ({
      itemId: row.itemId,
      itemName: row.itemName,
      shortWords:
        row.form === 'worth'
          ? formatMicro(row.shortQty, currency, 0, { symbol: true })
          : describer({ form: row.form, unit: row.unit, piece_word: row.pieceWord })(row.shortQty),
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

/** Baths whose oil should be changed or looked at. */
export async function oilDue(ctx: QueryContext): Promise<BenchDay['oilDue']> {
  const all = await baths(ctx, { includeArchived: false });
  return all.flatMap(({ id, name, due }) => (due === null ? [] : [{ bathId: id, name, sentence: due }]));
}

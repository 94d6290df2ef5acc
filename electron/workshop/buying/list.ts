/** Use-case: the buying list, by supplier. */
import type { BuyingGroup, BuyingRow } from '../../api/buying.ts';
import { type Need, stillToTake, toBuy } from '../../domain/buying.ts';
import { roundHalfAway, sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastBought, onOrder, openNeeds } from '../../storage/queries/buying.ts';
import { itemRows, type ItemListRow, supplierRows } from '../../storage/queries/items.ts';
import type { HandlerFor } from '../handlers.ts';
import { toItemRow } from '../stock/views.ts';

type NeedRow = ReturnType<typeof openNeeds>[number];
type Bought = ReturnType<typeof lastBought>;

function needsOf(rows: readonly NeedRow[], barQty: number | null): Need[] {
  return rows
    .map((row) => ({
      buildId: row.build_id,
      serial: row.serial,
      qty: stillToTake(row, barQty),
      wantedOn: row.planned_on,
    }))
    .filter((need) => need.qty > 0);
}

interface Found {
  readonly supplierId: string | null;
  readonly row: BuyingRow;
}

interface Known {
  readonly needs: ReadonlyMap<string, readonly NeedRow[]>;
  readonly ordered: ReadonlyMap<string, number>;
  readonly leadDays: ReadonlyMap<string, number>;
  readonly today: string;
}

const priceEach = (bought: Bought): number | null =>
  bought === undefined ? null : roundHalfAway(bought.paid_micro, bought.pieces);

function rowOf(db: ReadDb, item: ItemListRow, known: Known): Found | undefined {
  const rows = known.needs.get(item.id) ?? [];
  if (rows.length === 0 && item.low_level === 0) return undefined;
  const bought = lastBought(db, item.id);
  const supplierId = item.supplier_id ?? bought?.supplier_id ?? null;
  const needs = needsOf(rows, bought?.qty_each ?? null);
  const supply = {
    onRackQty: item.qty_left,
    onOrderQty: known.ordered.get(item.id) ?? 0,
    lowLevel: item.low_level,
    qtyEach: bought?.qty_each ?? null,
    priceEachMicro: priceEach(bought),
    leadDays: supplierId === null ? 0 : (known.leadDays.get(supplierId) ?? 0),
  };
  const buy = toBuy(needs, supply, known.today);
  if (buy === undefined) return undefined;
  const { id, name, kind, form, unit, pieceWord } = toItemRow(item);
  const what = { itemId: id, itemName: name, kind, form, unit, pieceWord };
  const stock = { onRackQty: supply.onRackQty, onOrderQty: supply.onOrderQty, lowLevel: item.low_level };
  return { supplierId, row: { ...what, ...stock, ...buy, for: needs } };
}

function byItem(rows: readonly NeedRow[]): Map<string, NeedRow[]> {
  const found = new Map<string, NeedRow[]>();
  for (const row of rows) {
    const of = found.get(row.item_id);
    if (of === undefined) found.set(row.item_id, [row]);
    else of.push(row);
  }
  return found;
}

/** Late first, then by the day to order by, then by name. */
const urgency = (row: BuyingRow): string => row.orderBy ?? '9999-12-31';
const byUrgency = (a: BuyingRow, b: BuyingRow): number =>
  urgency(a) === urgency(b) ? a.itemName.localeCompare(b.itemName) : urgency(a) < urgency(b) ? -1 : 1;

/** Groups by supplier: the one to order from first on top, things without a supplier last. */
export function buyingGroups(db: ReadDb, today: string, until?: string): BuyingGroup[] {
  const suppliers = supplierRows(db);
  const known: Known = {
    needs: byItem(openNeeds(db, until)),
    ordered: new Map(onOrder(db).map((row) => [row.item_id, row.qty])),
    leadDays: new Map(suppliers.map((row) => [row.id, row.lead_days])),
    today,
  };
  const found = itemRows(db, {}).flatMap((item) => rowOf(db, item, known) ?? []);
  const ids = [...new Set(found.map((each) => each.supplierId))];
  return ids
    .map((supplierId): BuyingGroup => {
      const rows = found
        .filter((each) => each.supplierId === supplierId)
        .map((each) => each.row)
        .sort(byUrgency);
      const supplier = suppliers.find((each) => each.id === supplierId);
      return {
        supplierId,
        supplierName: supplier?.name ?? '',
        leadDays: supplier?.lead_days ?? 0,
        rows,
        totalMicro: sumOf(rows, (row) => row.priceMicro ?? 0),
      };
    })
    .sort((a, b) => {
      if ((a.supplierId === null) !== (b.supplierId === null)) return a.supplierId === null ? 1 : -1;
      const [first, second] = [a.rows[0], b.rows[0]];
      return first !== undefined && second !== undefined ? byUrgency(first, second) : 0;
    });
}

/** What planned and open knives need and the shelf should hold, less what is there or on its way. */
export const list: HandlerFor<'buying.list'> = (ctx, input) =>
  buyingGroups(ctx.db, ctx.clock.today(), input.until);

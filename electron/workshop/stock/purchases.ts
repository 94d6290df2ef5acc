/** Use-cases: reading purchases. */
import { missing } from '../../api/errors.ts';
import type { ItemForm, PurchaseLine, PurchaseRow } from '../../api/stock.ts';
import { sumOf } from '../../domain/integers.ts';
import { lotsOfPurchase, lotsTakenBack, type LotListRow } from '../../storage/queries/lots.ts';
import {
  type PurchaseListRow,
  purchaseLineRows,
  purchasePage,
  purchaseRow,
} from '../../storage/queries/purchases.ts';
import type { HandlerFor } from '../handlers.ts';
import { toLotRow } from './views.ts';

const toPurchase = (row: PurchaseListRow): PurchaseRow => ({
  id: row.id,
  on: row.on_date,
  supplierId: row.supplier_id,
  supplierName: row.supplier_name,
  reference: row.reference,
  lines: row.lines,
  goodsMicro: row.goods_micro,
  freightMicro: row.freight_micro,
  freightRule: row.freight_rule as PurchaseRow['freightRule'],
  totalMicro: row.goods_micro + row.freight_micro,
});

/** A page of purchases, newest first. */
export const purchases: HandlerFor<'stock.purchases'> = (ctx, input) => {
  const { rows, total } = purchasePage(ctx.db, input);
  return { rows: rows.map(toPurchase), total };
};

const toLine = (
  row: ReturnType<typeof purchaseLineRows>[number],
  lots: readonly LotListRow[],
  takenBack: readonly string[],
): PurchaseLine => ({
  id: row.id,
  itemId: row.item_id,
  itemName: row.item_name,
  form: row.form as ItemForm,
  unit: row.unit,
  pieceWord: row.piece_word,
  pieces: row.pieces,
  qtyEach: row.qty_each,
  priceMicro: row.price_micro,
  freightShareMicro: row.freight_share_micro,
  heatNumber: row.heat_number,
  place: row.place,
  lots: lots.filter((lot) => lot.purchase_line_id === row.id).map(toLotRow),
  takenBack: lots
    .filter((lot) => lot.purchase_line_id === row.id && takenBack.includes(lot.id))
    .map(({ id }) => id),
});

/** One purchase with its lines and the lots that came of them. */
export const purchase: HandlerFor<'stock.purchase'> = (ctx, { id }) => {
  const row = purchaseRow(ctx.db, id);
  if (row === undefined) throw missing('This purchase does not exist any more. Go back to the list.');
  const lots = lotsOfPurchase(ctx.db, id);
  const takenBack = lotsTakenBack(ctx.db, id);
  const standing = lots.filter((lot) => !takenBack.includes(lot.id));
  return {
    ...toPurchase(row),
    note: row.note,
    standsMicro: sumOf(standing, (lot) => lot.value_received_micro),
    lineItems: purchaseLineRows(ctx.db, id).map((line) => toLine(line, lots, takenBack)),
  };
};

/** Use-cases: orders at suppliers, from drafted to received. */
import type { SupplyOrder } from '../../api/buying.ts';
import type { Parsed } from '../../api/contract.ts';
import { invalid, missing, refused } from '../../api/errors.ts';
import type { ItemForm } from '../../api/stock.ts';
import { mulDiv, sumOf } from '../../domain/integers.ts';
import type { ReadDb } from '../../storage/db.ts';
import {
  endOrder,
  insertOrder,
  nextOrderNumber,
  supplyLines,
  supplyOrder,
  supplyOrders,
} from '../../storage/queries/buying.ts';
import { itemRow, supplierRow } from '../../storage/queries/items.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { purchaseBooker } from '../stock/buy.ts';
import { needWorkshop } from '../workshop/need.ts';

const TAG_DIGITS = 4;

/** The short name of an order, e.g. `B-0007`. */
export const orderTag = (number: number): string => `B-${String(number).padStart(TAG_DIGITS, '0')}`;

type OrderRow = ReturnType<typeof supplyOrders>[number];
type LineRow = ReturnType<typeof supplyLines>[number];

function toOrder(row: OrderRow, lines: readonly LineRow[]): SupplyOrder {
  const mine = lines.filter((line) => line.order_id === row.id);
  return {
    id: row.id,
    tag: orderTag(row.number),
    supplierId: row.supplier_id,
    supplierName: row.supplier_name,
    on: row.on_date,
    dueOn: row.due_on,
    state: row.state as SupplyOrder['state'],
    purchaseId: row.purchase_id,
    note: row.note,
    lines: mine.map((line) => ({
      id: line.id,
      itemId: line.item_id,
      itemName: line.item_name,
      form: line.form as ItemForm,
      unit: line.unit,
      pieceWord: line.piece_word,
      pieces: line.pieces,
      qtyEach: line.qty_each,
      priceMicro: line.price_micro,
    })),
    totalMicro: sumOf(mine, (line) => line.price_micro),
  };
}

/** Orders at suppliers in the states asked for. */
export const orders: HandlerFor<'buying.orders'> = (ctx, input) => {
  const rows = supplyOrders(ctx.db, input.states);
  const lines = supplyLines(
    ctx.db,
    rows.map((row) => row.id),
  );
  return rows.map((row) => toOrder(row, lines));
};

function needOrder(db: ReadDb, id: string): OrderRow {
  const row = supplyOrder(db, id);
  if (row === undefined) throw missing('This order does not exist any more. Go back to the buying list.');
  return row;
}

function needOpen(db: ReadDb, id: string): OrderRow {
  const row = needOrder(db, id);
  if (row.state === 'open') return row;
  throw refused(
    row.state === 'received'
      ? `${orderTag(row.number)} came already and is a purchase now.`
      : `${orderTag(row.number)} was dropped. Write a new order.`,
  );
}

const answer = (db: ReadDb, id: string): SupplyOrder => toOrder(needOrder(db, id), supplyLines(db, [id]));

type LineInput = Parsed<'buying.order'>['lines'][number];

function checkLines(db: ReadDb, lines: readonly LineInput[]): void {
  for (const [at, line] of lines.entries()) {
    if (itemRow(db, line.itemId) === undefined)
      throw invalid('This item does not exist any more. Choose another one.', `lines.${at}.itemId`);
    if (!Number.isSafeInteger(line.pieces * line.qtyEach))
      throw invalid('This is more than the books can hold. Check the quantity.', `lines.${at}.qtyEach`);
  }
}

function write(ctx: CommandContext, input: Parsed<'buying.order'>): string {
  const id = ctx.newId();
  const head = {
    id,
    number: nextOrderNumber(ctx.db),
    supplier_id: input.supplierId,
    on_date: input.on,
    due_on: input.dueOn,
    note: input.note,
  };
  insertOrder(
    ctx.db,
    { ...head, state: 'open', purchase_id: null },
    input.lines.map((line, position) => ({
      id: ctx.newId(),
      order_id: id,
      position,
      item_id: line.itemId,
      pieces: line.pieces,
      qty_each: line.qtyEach,
      price_micro: line.priceMicro,
    })),
  );
  return id;
}

/** Writes an order down. Nothing is sent; the maker sends it. */
export const order: HandlerFor<'buying.order'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    if (supplierRow(ctx.db, input.supplierId) === undefined)
      throw invalid('This supplier does not exist any more. Choose another one.', 'supplierId');
    if (input.dueOn !== null && input.dueOn < input.on)
      throw invalid('It cannot come before it is ordered. Change one of the days.', 'dueOn');
    checkLines(ctx.db, input.lines);
    return answer(ctx.db, write(ctx, input));
  },
};

/** Drops an order that will not come. */
export const drop: HandlerFor<'buying.drop'> = {
  run(ctx, input) {
    const row = needOpen(ctx.db, input.orderId);
    const note = [row.note, input.reason].filter((text) => text !== '').join('\n');
    endOrder(ctx.db, row.id, { state: 'dropped', purchase_id: null, note });
    return answer(ctx.db, row.id);
  },
};

/** Takes what came off what is missing of each line, as far as `fits` says that it is the same thing. */
function serve(
  ordered: readonly LineRow[],
  missingPieces: number[],
  came: { -readonly [K in keyof LineInput]: LineInput[K] }[],
  fits: (line: LineRow, each: LineInput) => boolean,
): void {
  for (const [at, line] of ordered.entries()) {
    for (const each of came) {
      if (each.itemId !== line.item_id || !fits(line, each)) continue;
      const served = Math.min(each.pieces, missingPieces[at] ?? 0);
      each.pieces -= served;
      missingPieces[at] = (missingPieces[at] ?? 0) - served;
    }
  }
}

/** What was ordered and did not come, per item and size; what came in another size stands for what is still missing. */
function notCome(ordered: readonly LineRow[], came: readonly LineInput[]): LineInput[] {
  const left = came.map((line) => ({ ...line }));
  const missingPieces = ordered.map((line) => line.pieces);
  serve(ordered, missingPieces, left, (line, each) => each.qtyEach === line.qty_each);
  serve(ordered, missingPieces, left, () => true);
  return ordered.flatMap((line, at) => {
    const pieces = missingPieces[at] ?? 0;
    if (pieces === 0) return [];
    const priceMicro = mulDiv(line.price_micro, pieces, line.pieces);
    return [{ itemId: line.item_id, pieces, qtyEach: line.qty_each, priceMicro }];
  });
}

/** It came: a purchase as it really came, and with a wish an open order for what did not. */
export const receive: HandlerFor<'buying.receive'> = {
  run(ctx, input) {
    const row = needOpen(ctx.db, input.orderId);
    const { supplier_id: supplierId } = row;
    const { on, reference, freightMicro, freightRule, lines } = input;
    checkLines(ctx.db, lines);
    const booked = purchaseBooker(ctx)({
      supplierId,
      on,
      reference: reference === '' ? orderTag(row.number) : reference,
      freightMicro,
      freightRule,
      note: row.note,
      lines,
    });
    endOrder(ctx.db, row.id, { state: 'received', purchase_id: booked.purchaseId, note: row.note });
    const rest = input.keepRest ? notCome(supplyLines(ctx.db, [row.id]), lines) : [];
    if (rest.length > 0)
      write(ctx, { supplierId, on, dueOn: null, note: `Rest of ${orderTag(row.number)}`, lines: rest });
    return booked;
  },
};

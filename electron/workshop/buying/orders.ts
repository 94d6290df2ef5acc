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

/** A bar or a sheet of another size stands for the one ordered; of everything else the quantity counts. */
const countsPieces = (form: string): boolean => form === 'length' || form === 'area';

/** Something that is still missing, or has come and stands for nothing yet. */
interface Open {
  readonly itemId: string;
  readonly qtyEach: number;
  /** Pieces of bars and sheets; base units of everything else. */
  left: number;
}

/** Takes what came off what is missing, as far as `fits` says that it is the same thing. */
function serve(ordered: readonly Open[], came: readonly Open[], fits: (one: Open, other: Open) => boolean) {
  for (const line of ordered) {
    for (const each of came) {
      if (each.itemId !== line.itemId || !fits(line, each)) continue;
      const served = Math.min(each.left, line.left);
      each.left -= served;
      line.left -= served;
    }
  }
}

/** The rest of a line as it is ordered again: in its own pieces where they come out whole, in one piece otherwise. */
function restOf(line: LineRow, left: number): LineInput {
  const each = countsPieces(line.form) ? 1 : line.qty_each;
  const priceMicro = mulDiv(line.price_micro, left, line.pieces * each);
  const whole = left % each === 0;
  const [pieces, qtyEach] = whole ? [left / each, line.qty_each] : [1, left];
  return { itemId: line.item_id, pieces, qtyEach, priceMicro };
}

/** What was ordered and did not come. What is of the same size goes first, then what came in another one. */
function notCome(ordered: readonly LineRow[], came: readonly LineInput[]): LineInput[] {
  const forms = new Map(ordered.map((line) => [line.item_id, line.form]));
  const open = (itemId: string, pieces: number, qtyEach: number): Open => ({
    itemId,
    qtyEach,
    left: countsPieces(forms.get(itemId) ?? '') ? pieces : pieces * qtyEach,
  });
  const missed = ordered.map((line) => open(line.item_id, line.pieces, line.qty_each));
  const there = came.map((line) => open(line.itemId, line.pieces, line.qtyEach));
  serve(missed, there, (one, other) => one.qtyEach === other.qtyEach);
  serve(missed, there, () => true);
  return ordered.flatMap((line, at) => {
    const left = missed[at]?.left ?? 0;
    return left === 0 ? [] : [restOf(line, left)];
  });
}

/** It came: a purchase as it really came, and with a wish an open order for what did not. */
export const receive: HandlerFor<'buying.receive'> = {
  run(ctx, input) {
    const row = needOpen(ctx.db, input.orderId);
    const { supplier_id: supplierId } = row;
    const { on, reference, freightMicro, freightRule, lines } = input;
    if (on < row.on_date)
      throw invalid(
        `${orderTag(row.number)} was ordered on ${row.on_date}, after ${on}. Write the day it came; if it was bought earlier, drop the order and enter a purchase.`,
        'on',
      );
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

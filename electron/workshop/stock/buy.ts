/** Use-case: enter a purchase. Lines become lots; what was paid becomes their value, to the last millionth. */
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { allocate } from '../../domain/integers.ts';
import { minorToMicro } from '../../domain/money.ts';
import { spreadFreight } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { inserter } from '../../storage/queries/insert.ts';
import { itemRow, supplierRow } from '../../storage/queries/items.ts';
import { nextCount } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { postReceipt } from './post.ts';

export type PurchaseInput = Parsed<'stock.buy'>;
type LineInput = PurchaseInput['lines'][number];

export interface PurchaseBooked {
  readonly purchaseId: string;
  readonly lotIds: readonly string[];
}

const insertPurchase = inserter('purchases', [
  'id',
  'supplier_id',
  'on_date',
  'reference',
  'freight_micro',
  'freight_rule',
  'note',
]);
const insertLine = inserter('purchase_lines', [
  'id',
  'purchase_id',
  'position',
  'item_id',
  'pieces',
  'qty_each',
  'price_micro',
  'freight_share_micro',
  'heat_number',
  'place',
]);
const insertLot = inserter('lots', [
  'id',
  'number',
  'item_id',
  'purchase_line_id',
  'supplier_id',
  'received_on',
  'heat_number',
  'place',
  'note',
  'qty_received',
  'value_received_micro',
  'qty_left',
  'value_left_micro',
]);

/** A bar or a sheet is a thing with a remaining size, so each becomes a lot; belts and pins lie in one lot together. */
const eachIsALot = (form: string): boolean => form === 'length' || form === 'area';

interface LotPart {
  readonly qty: number;
  readonly valueMicro: number;
}

/** Cuts a line into the lots it becomes; their values add up to the line's price and freight share exactly. */
function lotParts(line: LineInput, form: string, valueMicro: number, field: string): readonly LotPart[] {
  if (eachIsALot(form)) {
    const values = allocate(
      valueMicro,
      Array.from({ length: line.pieces }, () => 1),
    );
    return values.map((value) => ({ qty: line.qtyEach, valueMicro: value }));
  }
  const qty = line.pieces * line.qtyEach;
  if (!Number.isSafeInteger(qty)) {
    throw invalid(
      'This is more than the books can hold. Check the quantity and its unit.',
      `${field}.qtyEach`,
    );
  }
  return [{ qty, valueMicro }];
}

function checkSum({ lines, freightMicro }: PurchaseInput): void {
  const total = lines.reduce((so, line) => so + line.priceMicro, freightMicro);
  if (!Number.isSafeInteger(total))
    throw invalid(
      'This purchase costs more than the books can hold. Check the prices.',
      'lines.0.priceMicro',
    );
}

/** What stays known while purchases are entered one after another. */
interface Booking {
  readonly ctx: CommandContext;
  readonly forms: Map<string, string>;
  readonly suppliers: Set<string>;
  nextLot: number;
}

function formOf(booking: Booking, itemId: string, field: string): string {
  const form = booking.forms.get(itemId) ?? itemRow(booking.ctx.db, itemId)?.form;
  if (form === undefined)
    throw invalid('This item does not exist any more. Choose another one.', `${field}.itemId`);
  booking.forms.set(itemId, form);
  return form;
}

function needSupplier({ ctx, suppliers }: Booking, id: string): void {
  if (suppliers.has(id)) return;
  if (supplierRow(ctx.db, id) === undefined) {
    throw invalid('This supplier does not exist any more. Choose another one.', 'supplierId');
  }
  suppliers.add(id);
}

function takeLotNumber(booking: Booking): number {
  const number = booking.nextLot;
  booking.nextLot += 1;
  return number;
}

interface LineAt {
  readonly input: PurchaseInput;
  readonly line: LineInput;
  readonly id: string;
}

function addLot(booking: Booking, { input, line, id: lineId }: LineAt, { qty, valueMicro }: LotPart): string {
  const { ctx } = booking;
  const id = ctx.newId();
  const sums = {
    qty_received: qty,
    value_received_micro: valueMicro,
    qty_left: qty,
    value_left_micro: valueMicro,
  };
  const from = { item_id: line.itemId, purchase_line_id: lineId, supplier_id: input.supplierId };
  const written = { heat_number: line.heatNumber, place: line.place, note: '' };
  ctx.db.run(
    insertLot({ id, number: takeLotNumber(booking), received_on: input.on, ...from, ...written, ...sums }),
  );
  postReceipt(ctx.db, { id: ctx.newId(), lotId: id, on: input.on, qty, valueMicro });
  return id;
}

/** Enters one line with its lots. @returns the lots' ids */
function addLine(
  booking: Booking,
  input: PurchaseInput,
  purchaseId: string,
  at: number,
  freightShare: number,
): readonly string[] {
  const line = input.lines[at];
  if (line === undefined) return [];
  const field = `lines.${at}`;
  const parts = lotParts(line, formOf(booking, line.itemId, field), line.priceMicro + freightShare, field);
  const id = booking.ctx.newId();
  const amounts = {
    pieces: line.pieces,
    qty_each: line.qtyEach,
    price_micro: line.priceMicro,
    freight_share_micro: freightShare,
  };
  const where = { purchase_id: purchaseId, position: at, item_id: line.itemId };
  booking.ctx.db.run(
    insertLine({ id, ...where, ...amounts, heat_number: line.heatNumber, place: line.place }),
  );
  return parts.map((part) => addLot(booking, { input, line, id }, part));
}

/** In whole minor units where the freight is whole, so that the shares a person sees add up to it. */
function freightShares(db: ReadDb, { freightRule, freightMicro, lines }: PurchaseInput): readonly number[] {
  if (freightRule !== 'spread' || freightMicro === 0) return lines.map(() => 0);
  const minor = minorToMicro(1, decimalsOf(needWorkshop(db).currency));
  const step = freightMicro % minor === 0 ? minor : 1;
  const values = lines.map((line) => ({ value: line.priceMicro }));
  return spreadFreight(values, freightMicro / step).map((share) => share * step);
}

function enter(booking: Booking, input: PurchaseInput): PurchaseBooked {
  needSupplier(booking, input.supplierId);
  checkSum(input);
  const purchaseId = booking.ctx.newId();
  const { supplierId, on, reference, freightMicro, freightRule, note } = input;
  const head = { id: purchaseId, supplier_id: supplierId, on_date: on, reference, note };
  booking.ctx.db.run(insertPurchase({ ...head, freight_micro: freightMicro, freight_rule: freightRule }));
  const shares = freightShares(booking.ctx.db, input);
  const lotIds = input.lines.flatMap((_, at) => addLine(booking, input, purchaseId, at, shares[at] ?? 0));
  return { purchaseId, lotIds };
}

/**
 * Makes a booker that enters purchases one after another; it looks up every item, supplier and lot number once, so
 * that thousands of lines from a file go in quickly. Use it inside one command only.
 */
export function purchaseBooker(ctx: CommandContext): (input: PurchaseInput) => PurchaseBooked {
  const booking: Booking = {
    ctx,
    forms: new Map(),
    suppliers: new Set(),
    nextLot: nextCount(ctx.db, 'lots'),
  };
  return (input) => enter(booking, input);
}

/** Enters a purchase: one lot per bar or sheet, one lot per other line; freight spread by value or kept as overhead. */
export const buy: HandlerFor<'stock.buy'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    return purchaseBooker(ctx)(input);
  },
};

/** Use-case: enter a purchase. Lines become lots; what was paid becomes their value, to the last millionth. */
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import { decimalsOf } from '../../domain/currencies.ts';
import { allocate, mulDiv } from '../../domain/integers.ts';
import { minorToMicro } from '../../domain/money.ts';
import { spreadFreight } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { inserter } from '../../storage/queries/insert.ts';
import { itemRow, supplierRow } from '../../storage/queries/items.ts';
import { nextCount } from '../../storage/queries/workshop.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { addLot } from './new-lot.ts';
import { levelItem } from './post.ts';

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

/** Square nanometres in one square micrometre, the base unit of areas. */
const NM2_PER_UM2 = 1_000_000;

/** @throws FaultError when a sheet's size and its area say different things */
function checkSheet({ sheet, qtyEach }: LineInput, form: string, field: string): void {
  if (sheet === undefined) return;
  if (form !== 'area') {
    throw invalid('Only what is measured by area has a sheet size. Leave it empty.', `${field}.sheet`);
  }
  if (qtyEach === mulDiv(sheet.lengthNm, sheet.widthNm, NM2_PER_UM2)) return;
  throw invalid(
    'The size of the sheet and its area do not agree. Write length and width again.',
    `${field}.sheet`,
  );
}

function checkSum({ lines, freightMicro }: PurchaseInput): void {
  const total = lines.reduce((so, line) => so + line.priceMicro, freightMicro);
  if (!Number.isSafeInteger(total))
    throw invalid(
      'This purchase costs more than the books can hold. Check the prices.',
      'lines.0.priceMicro',
    );
}

/** What a purchase must know of an item. */
interface BoughtItem {
  readonly form: string;
  readonly costing: string;
}

/** What stays known while purchases are entered one after another. */
interface Booking {
  readonly ctx: CommandContext;
  readonly items: Map<string, BoughtItem>;
  readonly suppliers: Set<string>;
  nextLot: number;
}

function itemOf(booking: Booking, itemId: string, field: string): BoughtItem {
  const item = booking.items.get(itemId) ?? itemRow(booking.ctx.db, itemId);
  if (item === undefined)
    throw invalid('This item does not exist any more. Choose another one.', `${field}.itemId`);
  booking.items.set(itemId, item);
  return item;
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

function addPart(booking: Booking, { input, line, id }: LineAt, part: LotPart): string {
  return addLot(booking.ctx, {
    ...part,
    kind: 'receipt',
    on: input.on,
    itemId: line.itemId,
    purchaseLineId: id,
    supplierId: input.supplierId,
    heatNumber: line.heatNumber,
    place: line.place,
    lengthNm: line.sheet?.lengthNm ?? null,
    widthNm: line.sheet?.widthNm ?? null,
    number: takeLotNumber(booking),
  }).id;
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
  const { form } = itemOf(booking, line.itemId, field);
  checkSheet(line, form, field);
  const parts = lotParts(line, form, line.priceMicro + freightShare, field);
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
  return parts.map((part) => addPart(booking, { input, line, id }, part));
}

/** In whole minor units where the freight is whole, so that the shares a person sees add up to it. */
function freightShares(db: ReadDb, { freightRule, freightMicro, lines }: PurchaseInput): readonly number[] {
  if (freightRule !== 'spread' || freightMicro === 0) return lines.map(() => 0);
  const minor = minorToMicro(1, decimalsOf(needWorkshop(db).currency));
  const step = freightMicro % minor === 0 ? minor : 1;
  const values = lines.map((line) => ({ value: line.priceMicro }));
  return spreadFreight(values, freightMicro / step).map((share) => share * step);
}

/** Once for the whole purchase, not once for every bar of it. */
function levelAveraged({ ctx, items }: Booking, { lines, on }: PurchaseInput): void {
  const ids = new Set(lines.map((line) => line.itemId));
  for (const id of ids) {
    if (items.get(id)?.costing === 'average') levelItem(ctx.db, id, { key: ctx.newId(), on });
  }
}

function enter(booking: Booking, input: PurchaseInput): PurchaseBooked {
  demandCome(booking.ctx.clock.today(), input.on);
  needSupplier(booking, input.supplierId);
  checkSum(input);
  const purchaseId = booking.ctx.newId();
  const { supplierId, on, reference, freightMicro, freightRule, note } = input;
  const head = { id: purchaseId, supplier_id: supplierId, on_date: on, reference, note };
  booking.ctx.db.run(insertPurchase({ ...head, freight_micro: freightMicro, freight_rule: freightRule }));
  const shares = freightShares(booking.ctx.db, input);
  const lotIds = input.lines.flatMap((_, at) => addLine(booking, input, purchaseId, at, shares[at] ?? 0));
  levelAveraged(booking, input);
  return { purchaseId, lotIds };
}

/**
 * Makes a booker that enters purchases one after another; it looks up every item, supplier and lot number once, so
 * that thousands of lines from a file go in quickly. Use it inside one command only.
 */
export function purchaseBooker(ctx: CommandContext): (input: PurchaseInput) => PurchaseBooked {
  const booking: Booking = {
    ctx,
    items: new Map(),
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

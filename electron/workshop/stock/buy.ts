/** Use-case: enter a purchase. Lines become lots; what was paid becomes their value, to the last millionth. */
import type { Parsed } from '../../api/contract.ts';
import { invalid } from '../../api/errors.ts';
import { allocate } from '../../domain/integers.ts';
import { spreadFreight } from '../../domain/stock.ts';
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

/**
 * Makes a booker that enters purchases one after another; it looks up every item, supplier and lot number once, so
 * that thousands of lines from a file go in quickly. Use it inside one command only.
 */
export function purchaseBooker(ctx: CommandContext): (input: PurchaseInput) => PurchaseBooked {
  const { db } = ctx;
  const forms = new Map<string, string>();
  const suppliers = new Set<string>();
  let nextLot = nextCount(db, 'lots');

  const formOf = (itemId: string, field: string): string => {
    const known = forms.get(itemId) ?? itemRow(db, itemId)?.form;
    if (known === undefined)
      throw invalid('This item does not exist any more. Choose another one.', `${field}.itemId`);
    forms.set(itemId, known);
    return known;
  };
  const needSupplier = (id: string): void => {
    if (suppliers.has(id)) return;
    if (supplierRow(db, id) === undefined)
      throw invalid('This supplier does not exist any more. Choose another one.', 'supplierId');
    suppliers.add(id);
  };
  const addLot = (input: PurchaseInput, line: LineInput, lineId: string, part: LotPart): string => {
    const id = ctx.newId();
    const sums = {
      qty_received: part.qty,
      value_received_micro: part.valueMicro,
      qty_left: part.qty,
      value_left_micro: part.valueMicro,
    };
    const from = { item_id: line.itemId, purchase_line_id: lineId, supplier_id: input.supplierId };
    const written = { heat_number: line.heatNumber, place: line.place, note: '' };
    db.run(insertLot({ id, number: nextLot, received_on: input.on, ...from, ...written, ...sums }));
    postReceipt(db, { id: ctx.newId(), lotId: id, on: input.on, qty: part.qty, valueMicro: part.valueMicro });
    nextLot += 1;
    return id;
  };
  const addLine = (
    input: PurchaseInput,
    purchaseId: string,
    at: number,
    freightShare: number,
  ): readonly string[] => {
    const line = input.lines[at];
    if (line === undefined) return [];
    const field = `lines.${at}`;
    const parts = lotParts(line, formOf(line.itemId, field), line.priceMicro + freightShare, field);
    const id = ctx.newId();
    db.run(
      insertLine({
        id,
        purchase_id: purchaseId,
        position: at,
        item_id: line.itemId,
        pieces: line.pieces,
        qty_each: line.qtyEach,
        price_micro: line.priceMicro,
        freight_share_micro: freightShare,
        heat_number: line.heatNumber,
        place: line.place,
      }),
    );
    return parts.map((part) => addLot(input, line, id, part));
  };

  return (input) => {
    needSupplier(input.supplierId);
    checkSum(input);
    const purchaseId = ctx.newId();
    const { supplierId, on, reference, freightMicro, freightRule, note } = input;
    const head = { id: purchaseId, supplier_id: supplierId, on_date: on, reference, note };
    db.run(insertPurchase({ ...head, freight_micro: freightMicro, freight_rule: freightRule }));
    const shares =
      freightRule === 'spread'
        ? spreadFreight(
            input.lines.map((line) => ({ value: line.priceMicro })),
            freightMicro,
          )
        : input.lines.map(() => 0);
    const lotIds = input.lines.flatMap((_, at) => addLine(input, purchaseId, at, shares[at] ?? 0));
    return { purchaseId, lotIds };
  };
}

/** Enters a purchase: one lot per bar or sheet, one lot per other line; freight spread by value or kept as overhead. */
export const buy: HandlerFor<'stock.buy'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    return purchaseBooker(ctx)(input);
  },
};

/** From rows of the books to what the contract answers. */
import type {
  Item,
  ItemForm,
  ItemKind,
  ItemRow,
  LotRow,
  Movement,
  MovementKind,
  Use,
} from '../../api/stock.ts';
import { formatQuantity } from '../../domain/quantity.ts';
import { TooLarge } from '../../domain/integers.ts';
import { over, rational, times, toInteger } from '../../domain/rational.ts';
import { isUnitCode, unitOf } from '../../domain/units.ts';
import type { ItemListRow, itemRow } from '../../storage/queries/items.ts';
import { type LotListRow, makingTagOf, type MovementRow, tagOf } from '../../storage/queries/lots.ts';

/** The fields of an item that say how a quantity of it is written. */
export interface Measured {
  readonly form: string;
  readonly unit: string;
  readonly piece_word: string;
}

/** Writes quantities of one item for a sentence, e.g. `7 3/4 in` or `3 belts`. */
export const describer =
  ({ form, unit, piece_word }: Measured) =>
  (qty: number): string => {
    if (!isUnitCode(unit)) throw new Error(`The books name an unknown unit: ${unit}`);
    return formatQuantity(qty, form as ItemForm, unit, piece_word === '' ? {} : { word: piece_word });
  };

type PlainItem = NonNullable<ReturnType<typeof itemRow>>;

/** An item as the contract answers it. */
export const toItem = (row: PlainItem): Item => ({
  id: row.id,
  name: row.name,
  kind: row.kind as ItemKind,
  form: row.form as ItemForm,
  unit: row.unit,
  pieceWord: row.piece_word,
  costing: row.costing as Item['costing'],
  usefulRemnant: row.useful_remnant,
  kerfNm: row.kerf_nm,
  thicknessNm: row.thickness_nm,
  widthNm: row.width_nm,
  densityMilli: row.density_milli,
  supplierId: row.supplier_id,
  lowLevel: row.low_level,
  note: row.note,
  archived: row.archived === 1,
  consumedBy: row.consumed_by as Item['consumedBy'],
  gritScale: row.grit_scale as Item['gritScale'],
  grit: row.grit,
  backing: row.backing,
  incidental: row.incidental === 1,
});

/**
 * Price of one whole unit when `qty` cost `valueMicro`, rounded once; null when nothing was bought, or when a speck was
 * bought so dear that the price of a whole unit is beyond any number. The item can still be opened and put right.
 */
function unitPriceMicro(unit: string, qty: number | null, valueMicro: number | null): number | null {
  if (qty === null || valueMicro === null || !isUnitCode(unit)) return null;
  const exact = over(times(rational(valueMicro), unitOf(unit).factor), rational(qty));
  try {
    return toInteger(exact);
  } catch (error) {
    if (error instanceof TooLarge) return null;
    throw error;
  }
}

/** An item with what is left of it. */
export const toItemRow = (row: ItemListRow): ItemRow => ({
  ...toItem(row),
  supplierName: row.supplier_name,
  qtyLeft: row.qty_left,
  valueLeftMicro: row.value_left_micro,
  lotsLeft: row.lots_left,
  lastUnitPriceMicro: unitPriceMicro(row.unit, row.bought_qty, row.bought_value_micro),
  low: row.qty_left < row.low_level,
});

/** A lot as the contract answers it. */
export const toLotRow = (row: LotListRow): LotRow => ({
  id: row.id,
  tag: tagOf(row.number),
  itemId: row.item_id,
  itemName: row.item_name,
  kind: row.kind as ItemKind,
  form: row.form as ItemForm,
  unit: row.unit,
  pieceWord: row.piece_word,
  supplierName: row.supplier_name,
  receivedOn: row.received_on,
  heatNumber: row.heat_number,
  place: row.place,
  qtyReceived: row.qty_received,
  valueReceivedMicro: row.value_received_micro,
  qtyLeft: row.qty_left,
  valueLeftMicro: row.value_left_micro,
  lengthNm: row.length_nm,
  widthNm: row.width_nm,
  makingId: row.making_id,
  makingTag: row.making_number === null ? null : makingTagOf(row.making_number),
  parentId: row.parent_id,
  parentTag: row.parent_number === null ? null : tagOf(row.parent_number),
  species: row.species,
  listing: row.listing,
  origin: row.origin,
  paperNumber: row.paper_number,
});

/** A movement as the contract answers it. */
export const toMovement = (row: MovementRow): Movement => ({
  id: row.id,
  seq: row.seq,
  on: row.on_date,
  kind: row.kind as MovementKind,
  lotId: row.lot_id,
  lotTag: tagOf(row.lot_number),
  itemId: row.item_id,
  itemName: row.item_name,
  form: row.form as ItemForm,
  unit: row.unit,
  pieceWord: row.piece_word,
  qty: row.qty,
  valueMicro: row.value_micro,
  use: row.use_as as Use | null,
  stageCode: row.stage_code,
  buildId: row.build_id,
  buildSerial: row.build_serial,
  netQty: row.net_qty,
  reason: row.reason,
  reversesId: row.reverses_id,
  reversedById: row.reversed_by_id,
  makingId: row.making_id,
  makingTag: row.making_number === null ? null : makingTagOf(row.making_number),
  openingId: row.opening_id,
  rung: row.rung as Movement['rung'],
});

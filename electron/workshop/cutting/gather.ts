/** What the rack holds of an item that is to be cut, and how its figures are written. */
import { invalid, refused } from '../../api/errors.ts';
import { formatMicro } from '../../domain/money.ts';
import { formatQuantity } from '../../domain/quantity.ts';
import { sheetArea } from '../../domain/sheet-cuts.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type LotToCut, lotsToCut, lotToCut, needsOfItem } from '../../storage/queries/cutting.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import type { HandlerFor } from '../handlers.ts';
import { needItem, type NeededItem } from '../stock/draw.ts';
import { describer } from '../stock/views.ts';
import { needWorkshop } from '../workshop/need.ts';

/** An item that is cut, with the words for its figures. */
export interface Cutting {
  readonly item: NeededItem;
  /** A quantity of the item. */
  readonly describe: (qty: number) => string;
  /** A length in the workshop's habit. */
  readonly length: (nm: number) => string;
  readonly money: (micro: number) => string;
}

/** @throws FaultError `refused` when the item is not measured the way the plan needs */
export function cuttingOf(db: ReadDb, itemId: string, form: 'length' | 'area'): Cutting {
  const shop = needWorkshop(db);
  const item = needItem(db, itemId);
  if (item.form !== form) {
    throw refused(
      form === 'length'
        ? `${item.name} is not measured by length, so no blanks are planned from it. Choose a bar or a strip.`
        : `${item.name} is not measured by area, so no pieces are planned from it. Choose a sheet.`,
      'itemId',
    );
  }
  const unit = shop.lengthHabit === 'inch' ? 'in' : 'mm';
  return {
    item,
    describe: describer(item),
    length: (nm) => formatQuantity(nm, 'length', unit),
    money: (micro) => formatMicro(micro, shop.currency, 0, { symbol: true }),
  };
}

/** The lots to plan with. @throws FaultError `refused` when there is nothing */
export function lotsOf(db: ReadDb, { item }: Cutting, lotIds: readonly string[] | undefined): LotToCut[] {
  const all = lotsToCut(db, item.id);
  if (all.length === 0)
    throw refused(`Nothing of ${item.name} is on the rack. Enter a purchase first.`, 'itemId');
  if (lotIds === undefined) return all;
  const chosen = all.filter((lot) => lotIds.includes(lot.id));
  if (chosen.length === 0) throw refused('Choose at least one piece from the rack to cut from.', 'lotIds');
  return chosen;
}

/** @throws FaultError `invalid` when two wishes bear the same key */
export function demandKeys(wishes: readonly { readonly key: string }[]): void {
  if (new Set(wishes.map((wish) => wish.key)).size === wishes.length) return;
  throw invalid('The same piece is named twice. Name each piece once.');
}

/** A lot that was planned with and is now to be cut. @throws FaultError when it is gone or of another item */
export function needLotOf(db: ReadDb, { item }: Cutting, lotId: string): LotToCut {
  const lot = lotToCut(db, lotId);
  if (lot === undefined) throw refused('A piece of this plan is not on the rack any more. Plan again.');
  if (lot.item_id !== item.id) {
    throw invalid(`${tagOf(lot.number)} is not ${item.name}. Plan again with the right item.`, 'itemId');
  }
  return lot;
}

/** @throws FaultError `invalid` when a lot is named twice: its second cut would not know of the first */
export function demandLotsOnce(lotIds: readonly string[]): void {
  if (new Set(lotIds).size === lotIds.length) return;
  throw invalid('The same piece of the rack is named twice. Plan again.');
}

/** Whether a lot's size is known and still what the books hold of it. */
export const sizeOf = (lot: LotToCut): { length: number; width: number } | undefined =>
  lot.length_nm !== null && lot.width_nm !== null && sheetArea(lot.length_nm, lot.width_nm) === lot.qty_left
    ? { length: lot.length_nm, width: lot.width_nm }
    : undefined;

/** What a lot cut from another takes along. */
export const inherited = (lot: LotToCut) => ({
  parentId: lot.id,
  supplierId: lot.supplier_id,
  heatNumber: lot.heat_number,
  place: lot.place,
  species: lot.species,
  listing: lot.listing,
  origin: lot.origin,
  paperNumber: lot.paper_number,
});

/** Knives that still lack a blank of the item: what the model asks for less what the knife took. */
export const needs: HandlerFor<'cutting.needs'> = (ctx, { itemId }) => {
  const item = needItem(ctx.db, itemId);
  if (item.form !== 'length') return [];
  return needsOfItem(ctx.db, itemId)
    .filter((row) => row.taken === 0)
    .map((row) => ({
      buildId: row.build_id,
      serial: row.serial,
      title: row.title === '' ? row.model_name : row.title,
      partLabel: row.label,
      length: row.qty,
    }));
};

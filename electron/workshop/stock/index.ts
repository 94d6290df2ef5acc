/** The Stock and Consumables areas' use-cases. */
import type { stockEndpoints } from '../../api/stock.ts';
import type { Handlers } from '../handlers.ts';
import { count, takeOut } from './adjust.ts';
import { buy } from './buy.ts';
import { cut, planCut } from './cut.ts';
import { draw } from './draw.ts';
import { item, items, saveItem } from './items.ts';
import { lot, lots, moveLot, movements } from './lots.ts';
import { purchase, purchases } from './purchases.ts';
import { saveSupplier, suppliers } from './suppliers.ts';
import { reverse } from './take-back.ts';

/** Which use-case answers which call. */
export const stockHandlers: Pick<Handlers, keyof typeof stockEndpoints> = {
  'stock.suppliers': suppliers,
  'stock.saveSupplier': saveSupplier,
  'stock.items': items,
  'stock.item': item,
  'stock.saveItem': saveItem,
  'stock.lots': lots,
  'stock.lot': lot,
  'stock.purchases': purchases,
  'stock.purchase': purchase,
  'stock.buy': buy,
  'stock.draw': draw,
  'stock.planCut': planCut,
  'stock.cut': cut,
  'stock.takeOut': takeOut,
  'stock.count': count,
  'stock.reverse': reverse,
  'stock.moveLot': moveLot,
  'stock.movements': movements,
};

/** A knife serves an order from the day it was linked; whatever frees it comes no earlier. */
import { invalid } from '../../api/errors.ts';
import type { ReadDb } from '../../storage/db.ts';
import { orderKnifeRows } from '../../storage/queries/orders.ts';

/** @throws FaultError of the field `on` when the knife of an order would be freed before it was linked */
export function demandAfterLink(db: ReadDb, orderId: string, on: string): void {
  const linked = orderKnifeRows(db, orderId).find((row) => row.until_on === null);
  if (linked !== undefined && on < linked.from_on)
    throw invalid(
      `${linked.serial} is made for this order since ${linked.from_on}. Choose that day or a later one.`,
      'on',
    );
}

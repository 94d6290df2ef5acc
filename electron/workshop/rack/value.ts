/** Use-cases: what the stock was worth, on a day and month by month. */
import { refused } from '../../api/errors.ts';
import type { StockValueRow } from '../../api/rack.ts';
import { daysBetween, monthEnd, monthsBetween } from '../../domain/calendar.ts';
import { sumOf } from '../../domain/integers.ts';
import { stockOn, stockValueByMonth } from '../../storage/queries/stock-value.ts';
import type { HandlerFor } from '../handlers.ts';

/** What lay on the rack at the end of a day. */
export const valueOn: HandlerFor<'rack.valueOn'> = (ctx, { on }) => {
  const rows = stockOn(ctx.db, on).map((row): StockValueRow => ({
    itemId: row.id,
    itemName: row.name,
    kind: row.kind as StockValueRow['kind'],
    form: row.form as StockValueRow['form'],
    unit: row.unit,
    qty: row.qty,
    valueMicro: row.value_micro,
  }));
  return { on, totalMicro: sumOf(rows, (row) => row.valueMicro), rows };
};

const LONGEST_DAYS = 50 * 366;

/** Value at the end of each month of a span; the last one at the span's own end. */
export const valueMonths: HandlerFor<'rack.valueMonths'> = (ctx, { from, to }) => {
  if (from > to) throw refused('The first day lies after the last one. Swap them.', 'from');
  if (daysBetween(from, to) > LONGEST_DAYS)
    throw refused('At most fifty years at once. Choose a later first day.', 'from');
  const changes = stockValueByMonth(ctx.db, to);
  return monthsBetween(from, to).map((start) => {
    const month = start.slice(0, 7);
    const end = monthEnd(start);
    const upTo = changes.filter((change) => change.month <= month);
    return { on: end < to ? end : to, valueMicro: sumOf(upTo, (change) => change.value_micro) };
  });
};

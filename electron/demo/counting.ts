/** The stocktakes at the ends of both years: everything lay there as the books say; and what is left of the laminate. */
import { amount } from './amounts.ts';
import type { Ask } from './desk.ts';
import type { Ledger } from './ledger.ts';

/** Counts the end of a year place by place and finishes. */
async function countDay(ask: Ask, on: string): Promise<void> {
  const { id, sheet } = await ask('stocktake.start', {
    on,
    note: 'Counted on the first free evening after.',
  });
  for (const line of sheet) await ask('stocktake.count', { lineId: line.id, qty: line.bookedQty });
  await ask('stocktake.finish', { id });
}

/** Takes stock at the end of every year up to a day. */
export async function countYears(ask: Ask, through: string): Promise<void> {
  for (const on of ['2024-12-31', '2025-12-31']) if (on <= through) await countDay(ask, on);
}

/** A sheet of 12 in, of which strips were sawn across for each knife: what is left of it is as wide as ever. */
export async function measureSheets({ ask, house }: Ledger, on: string): Promise<void> {
  const { lots } = await ask('stock.item', { id: house.items.laminate });
  const lengthNm = amount('12', 'in');
  for (const { id: lotId, qtyLeft } of lots.filter((lot) => lot.qtyLeft > 0)) {
    const strip = amount('12', 'sqin');
    if (qtyLeft % strip === 0)
      await ask('cutting.sheetSize', { lotId, lengthNm, widthNm: (qtyLeft / strip) * amount('1', 'in'), on });
  }
}

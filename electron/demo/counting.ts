/** The stocktakes at the ends of both years: everything lay there as the books say. */
import type { Ask } from './desk.ts';

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

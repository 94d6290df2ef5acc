/** Use-cases: what a maker settled once about money. */
import type { MoneySettings } from '../../api/money.ts';
import type { Parsed } from '../../api/contract.ts';
import type { ReadDb } from '../../storage/db.ts';
import { moneySettings, putMoneySettings } from '../../storage/queries/money.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';

/** A common part, to be changed to what the platform really keeps (common practice, no source). */
const USUAL_PLATFORM_PPM = 100_000;

/** 2,500 US dollars without audited statements: Treas. Reg. §1.263(a)-1(f), Notice 2015-82. Elsewhere none is known. */
const usualSmallTool = (currency: string): number | null => (currency === 'USD' ? 250_000 : null);

/** What was settled, or the usual. */
export function settingsOf(db: ReadDb): MoneySettings {
  const row = moneySettings(db);
  if (row !== undefined) return { platformPpm: row.platform_ppm, smallToolMinor: row.small_tool_minor };
  return { platformPpm: USUAL_PLATFORM_PPM, smallToolMinor: usualSmallTool(houseOf(db).currency) };
}

/** Settles it anew; what is booked stays as it is. */
export function saveSettings(ctx: CommandContext, input: Parsed<'money.saveSettings'>): MoneySettings {
  houseOf(ctx.db);
  putMoneySettings(ctx.db, { platform_ppm: input.platformPpm, small_tool_minor: input.smallToolMinor });
  return settingsOf(ctx.db);
}

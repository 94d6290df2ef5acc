/** What every entry of money is asked first. */
import { invalid, refused } from '../../api/errors.ts';
import type { CommandContext } from '../context.ts';
import { houseOf } from '../costs/house.ts';
import { notInFuture } from '../selling/sale.ts';
import { demandHoldable } from '../selling/reckon.ts';

/** Refuses days to come and sums beyond what the books hold; the fields of `days` and `sums` bear their inputs' names. */
export function demandSound(
  ctx: CommandContext,
  days: Readonly<Record<string, string | null>>,
  sums: Readonly<Record<string, number>>,
): void {
  demandHoldable(sums, houseOf(ctx.db).decimals);
  for (const [field, day] of Object.entries(days)) if (day !== null) notInFuture(ctx, day, field);
}

/** What a row that may be taken back says of itself. */
interface MayBeTakenBack {
  readonly reverses_id: string | null;
  readonly reversed_by_id: string | null;
}

/** Only once, only what was entered, and not before the day it is of. @param on the day it is taken back */
export function demandStanding(
  ctx: CommandContext,
  row: MayBeTakenBack,
  { of, on }: { readonly of: string; readonly on: string },
): void {
  if (row.reverses_id !== null) throw refused('This row takes an entry back itself. Enter it anew instead.');
  if (row.reversed_by_id !== null) throw refused('This entry was taken back already.');
  if (on < of) throw invalid(`The entry is of ${of}. Take it back on that day or later.`, 'on');
  notInFuture(ctx, on, 'on');
}

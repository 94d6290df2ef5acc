/** Use-case: book a plan of bars as it was shown. */
import type { Parsed } from '../../api/contract.ts';
import { refused } from '../../api/errors.ts';
import { lengthOfCut } from '../../domain/bar-takes.ts';
import { sumOf } from '../../domain/integers.ts';
import type { LotToCut } from '../../storage/queries/cutting.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { demandReceived } from '../stock/draw.ts';
import { bookingOfBar, type PerBar, perBarOf } from './bars.ts';
import { cutApart, cutForKnife } from './cut-off.ts';
import { type Cutting, cuttingOf, demandLotsOnce, needLotOf } from './gather.ts';
import { counted, listed } from './words.ts';

type BookInput = Parsed<'cutting.book'>;
type BarInput = BookInput['bars'][number];

/** @throws FaultError `refused` when the bar is not what the plan was made for */
function demandAsPlanned({ describe }: Cutting, lot: LotToCut, bar: BarInput, input: BookInput): void {
  const tag = tagOf(lot.number);
  if (lot.qty_left !== bar.before) {
    const now = lot.qty_left === 0 ? 'nothing' : describe(lot.qty_left);
    throw refused(
      `${tag} has changed since the plan was made: ${describe(bar.before)} was left of it then, ${now} is left now. Plan again.`,
    );
  }
  demandReceived(lot, input.on);
  const needed = lengthOfCut(
    bar.cuts.map((cut) => cut.length),
    input.kerf,
  );
  if (needed <= lot.qty_left) return;
  throw refused(
    `${counted(bar.cuts.length, 'blank')} with their cuts need ${describe(needed)} of ${tag}, but ${describe(lot.qty_left)} is left. Plan again.`,
  );
}

function bookBar(ctx: CommandContext, cutting: Cutting, bar: BarInput, input: BookInput, perBar: PerBar) {
  const lot = needLotOf(ctx.db, cutting, bar.lotId);
  demandAsPlanned(cutting, lot, bar, input);
  const rule = { kerf: input.kerf, usefulRemnant: cutting.item.useful_remnant, perBar };
  const { takes } = bookingOfBar(lot, bar.cuts, rule);
  const spares: string[] = [];
  const movementIds = bar.cuts.flatMap(({ buildId, length }, at) => {
    const qty = takes[at] ?? 0;
    if (buildId !== null) return cutForKnife(ctx, lot, { buildId, on: input.on, qty, net: length });
    const reason = `A spare blank of ${cutting.describe(length)}, cut from ${tagOf(lot.number)}.`;
    const becomes = { itemId: lot.item_id, qty: length, note: '' };
    const spare = cutApart(ctx, lot, { on: input.on, qtyOut: qty, net: length, reason, becomes });
    spares.push(tagOf(spare.number));
    return spare.movementIds;
  });
  return { tag: tagOf(lot.number), movementIds, spares };
}

/** Cuts the bars of a plan, all or none. */
export const book: HandlerFor<'cutting.book'> = {
  run(ctx, input) {
    demandCome(ctx.clock.today(), input.on);
    const cutting = cuttingOf(ctx.db, input.itemId, 'length');
    demandLotsOnce(input.bars.map((bar) => bar.lotId));
    const perBar = perBarOf(
      ctx.db,
      cutting.item.id,
      input.bars.flatMap((bar) => bar.cuts),
    );
    const done = input.bars.map((bar) => bookBar(ctx, cutting, bar, input, perBar));
    const blanks = sumOf(input.bars, (bar) => bar.cuts.length);
    const spares = done.flatMap((bar) => bar.spares);
    const kept =
      spares.length === 0 ? '' : ` ${listed(spares)} ${spares.length === 1 ? 'is' : 'are'} new on the rack.`;
    return {
      movementIds: done.flatMap((bar) => bar.movementIds),
      sentence: `${counted(blanks, 'blank')} cut from ${listed(done.map((bar) => bar.tag))}.${kept}`,
    };
  },
};

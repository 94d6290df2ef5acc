/** Use-cases: what was counted of a line and by whom, why it differs, and where a knife is. */
import { invalid, missing, refused } from '../../api/errors.ts';
import type { StocktakeLine } from '../../api/stocktakes.ts';
import type { Parsed } from '../../api/contract.ts';
import { onTheDay, withOpened } from '../../domain/stocktake.ts';
import type { ReadDb } from '../../storage/db.ts';
import { personRow } from '../../storage/queries/people.ts';
import {
  deleteCount,
  type LineRow,
  saveCount,
  saveKnife,
  saveLeft,
  type StocktakeRow,
  updateLine,
} from '../../storage/queries/stocktakes.ts';
import { valueOrRefuse } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import type { HandlerFor } from '../handlers.ts';
import { describer } from '../stock/views.ts';
import { needWorkshop } from '../workshop/need.ts';
import { needOpenLine, needOpenStocktake } from './need.ts';
import { readStocktake } from './read.ts';
import { readLines } from './rows.ts';

type CountInput = Parsed<'stocktake.count'>;

function lineNow(db: ReadDb, stocktake: StocktakeRow, id: string): StocktakeLine {
  const line = readLines(db, stocktake).find((one) => one.id === id);
  if (line === undefined) throw missing('This line is not on the sheet any more. Open the stocktake again.');
  return line;
}

/** The maker is the empty text in the books. */
function personOf(db: ReadDb, who: string | null): string {
  if (who === null) return '';
  if (personRow(db, who) === undefined) throw missing('This person does not exist any more. Choose another.');
  return who;
}

/** Keeps what is left of those in use, and answers their part where it counts as stock. */
function openedPart(ctx: CommandContext, before: StocktakeLine, stocktakeId: string, input: CountInput) {
  const inUse = input.opened.map(({ id, leftPpm }) => {
    const opening = before.opened.find((one) => one.id === id);
    if (opening === undefined)
      throw refused(`This ${before.pieceWord} was not in use on that day. Open the stocktake again.`);
    saveLeft(ctx.db, stocktakeId, id, leftPpm);
    return { qty: opening.qty, leftPpm };
  });
  // What was opened left the rack whole where stock falls by openings: its cost is with the knives it serves.
  return before.fallsByOpening ? [] : inUse;
}

const sentence = (line: LineRow, qty: number): string => describer(line)(Math.abs(qty));

/** What one person counted of a line. */
export const count: HandlerFor<'stocktake.count'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    const { line, stocktake } = needOpenLine(ctx.db, input.lineId);
    const who = personOf(ctx.db, input.who);
    const before = lineNow(ctx.db, stocktake, line.id);
    const total = withOpened(input.qty, openedPart(ctx, before, stocktake.id, input));
    const qty =
      input.lies === 'then'
        ? total
        : valueOrRefuse(onTheDay(total, before.sinceQty, sentence(line, before.sinceQty)), 'qty');
    saveCount(ctx.db, {
      ...{ line_id: line.id, who, qty },
      ...{ booked_qty: before.bookedQty, counted_at: ctx.clock.now() },
    });
    const after = lineNow(ctx.db, stocktake, line.id);
    if (after.state === 'agreed' && after.differenceQty === 0 && after.reason !== null) {
      updateLine(ctx.db, line.id, { reason: '', reason_note: '' });
    }
    return lineNow(ctx.db, stocktake, line.id);
  },
};

/** Takes away what one person counted. */
export const uncount: HandlerFor<'stocktake.uncount'> = {
  run(ctx, { lineId, who }) {
    needWorkshop(ctx.db);
    const { line, stocktake } = needOpenLine(ctx.db, lineId);
    if (deleteCount(ctx.db, line.id, who ?? '') === 0)
      throw refused('This person has not counted the line. Reload the sheet.');
    return lineNow(ctx.db, stocktake, line.id);
  },
};

/** Says why a line differs. */
export const reason: HandlerFor<'stocktake.reason'> = {
  run(ctx, { lineId, reason: why, note }) {
    needWorkshop(ctx.db);
    const { line, stocktake } = needOpenLine(ctx.db, lineId);
    if (why === 'other' && note === '') throw invalid('Write in a few words why it differs.', 'note');
    updateLine(ctx.db, line.id, { reason: why ?? '', reason_note: why === null ? '' : note });
    return lineNow(ctx.db, stocktake, line.id);
  },
};

/** Says where a finished knife is. */
export const knife: HandlerFor<'stocktake.knife'> = {
  run(ctx, { id, buildId, whereabouts, withWhom }) {
    needWorkshop(ctx.db);
    const stocktake = needOpenStocktake(ctx.db, id);
    const found = readStocktake(ctx.db, id).knives.find((one) => one.id === buildId);
    if (found === undefined)
      throw refused(`This knife was no part of the stock on ${stocktake.on_date}. Open the stocktake again.`);
    if (whereabouts === 'consignment' && withWhom === '')
      throw invalid('Write who has it on consignment.', 'withWhom');
    const at = whereabouts === 'consignment' || whereabouts === 'away' ? withWhom : '';
    saveKnife(ctx.db, { stocktake_id: id, build_id: buildId, whereabouts, with_whom: at });
    return readStocktake(ctx.db, id);
  },
};

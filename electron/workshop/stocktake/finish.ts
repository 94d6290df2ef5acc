/** Use-cases: the end of a stocktake, with its differences booked or dropped. */
import { refused } from '../../api/errors.ts';
import type { DifferenceReason, Stocktake, StocktakeLine } from '../../api/stocktakes.ts';
import { sumOf } from '../../domain/integers.ts';
import {
  insertOther,
  keepKnives,
  lineRow,
  linkMovement,
  lotsOfLines,
  saveKnife,
  type StocktakeRow,
  stocktakeTagOf,
  updateLine,
  updateStocktake,
} from '../../storage/queries/stocktakes.ts';
import { closedThrough } from '../../storage/seal/open-books.ts';
import { valueOrRefuse } from '../answers.ts';
import { closedSentence } from '../closed/sentence.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { stockAt } from '../stock/at.ts';
import { makeRoomFor, post } from '../stock/post.ts';
import { needWorkshop } from '../workshop/need.ts';
import { changesOfLine, turned } from './changes.ts';
import { needOpenStocktake, needStocktake, placesOf } from './need.ts';
import { bookedTotals, countedTotals, othersThen, readStocktake, toHead } from './read.ts';

/** Why a count differs, as it stands beside the movement. */
const reasonWords: Readonly<Record<DifferenceReason, string>> = {
  lost: 'lost',
  damaged: 'damaged',
  unbooked: 'used without booking',
  miscounted: 'counted or entered wrongly before',
  found: 'found',
  other: 'other',
};

const named = (line: StocktakeLine): string => `Line ${line.number}, ${line.itemName}`;

/** Beyond a few, the rest is only numbered. */
const several = (lines: readonly StocktakeLine[]): string => {
  const first = lines.slice(0, 3).map(named).join('; ');
  return lines.length > 3 ? `${first}; and ${lines.length - 3} more` : first;
};

function demandCounted(sheet: readonly StocktakeLine[], uncounted: 'refuse' | 'asBooked'): void {
  const moved = sheet.filter((line) => line.state === 'moved');
  if (moved.length > 0)
    throw refused(
      `Something was booked for that day after it was counted: ${several(moved)}. Look again and enter the count once more.`,
    );
  const apart = sheet.filter((line) => line.state === 'apart');
  if (apart.length > 0)
    throw refused(
      `Two people counted differently: ${several(apart)}. Count once more, or take one count away.`,
    );
  const open = sheet.filter((line) => line.state === 'uncounted');
  if (open.length > 0 && uncounted === 'refuse')
    throw refused(
      `${open.length} ${open.length === 1 ? 'line is' : 'lines are'} not counted yet: ${several(open)}. Count them, or take over what the books say.`,
    );
}

function demandReasons(sheet: readonly StocktakeLine[]): void {
  const without = sheet.filter((line) => line.differenceQty !== 0 && line.reason === null);
  if (without.length === 0) return;
  throw refused(`Say why it differs from the books: ${several(without)}.`);
}

/** What was started while the year was open may still be waiting when it is closed. */
function demandYearOpen(ctx: CommandContext, on: string, sheet: readonly StocktakeLine[]): void {
  const through = closedThrough(ctx.db);
  if (through === undefined || on > through || sheet.every((line) => line.differenceQty === 0)) return;
  throw refused(closedSentence(through));
}

function demandKnivesSeen({ knives }: Stocktake): void {
  const lost = knives.filter((knife) => knife.whereabouts === 'notSeen');
  if (lost.length === 0) return;
  const serials = lost.map((knife) => knife.serial).join(', ');
  throw refused(
    `${serials} ${lost.length === 1 ? 'was' : 'were'} not found. Say where it is, or end it on its own page (sold, scrapped, kept) and finish then.`,
  );
}

/** Books the difference of one line. @returns what it changed in value */
function bookLine(ctx: CommandContext, stocktake: StocktakeRow, line: StocktakeLine): number {
  const row = lineRow(ctx.db, line.id);
  if (line.differenceQty === 0 || row === undefined) return 0;
  // Read anew for each line: at the moving average an earlier line has drawn the lots level.
  const lots = lotsOfLines(ctx.db, stocktake.id, stocktake.on_date).filter((lot) => lot.line_id === line.id);
  const { on_date: on } = stocktake;
  const { changes, needRoom } = valueOrRefuse(changesOfLine(ctx.db, row, lots, line.differenceQty, on));
  if (needRoom) makeRoomFor(ctx.db, row.item_id, changes.map(turned), { key: ctx.newId(), on });
  const why = line.reason === null ? '' : reasonWords[line.reason];
  const reason = [`${stocktakeTagOf(stocktake.number)}: ${why}`, line.reasonNote]
    .filter((part) => part !== '')
    .join(', ');
  for (const change of changes) {
    const id = ctx.newId();
    post(ctx.db, { ...change, id, on, kind: 'count', reason });
    linkMovement(ctx.db, id, line.id);
  }
  return sumOf(changes, (change) => change.valueMicro);
}

/** Books every difference and keeps each line as it was counted. @returns the lines as kept */
function bookLines(
  ctx: CommandContext,
  stocktake: StocktakeRow,
  sheet: readonly StocktakeLine[],
): StocktakeLine[] {
  return sheet.map((line) => {
    const differenceMicro = bookLine(ctx, stocktake, line);
    updateLine(ctx.db, line.id, {
      ...{ booked_qty: line.bookedQty, booked_micro: line.bookedMicro, counted_qty: line.countedQty },
      ...{ difference_qty: line.differenceQty, difference_micro: differenceMicro },
    });
    return { ...line, differenceMicro };
  });
}

function keepTheRest(ctx: CommandContext, id: string, { knives, others }: Stocktake): void {
  keepKnives(
    ctx.db,
    id,
    knives.map((knife) => knife.id),
  );
  for (const knife of knives) {
    saveKnife(ctx.db, {
      ...{ stocktake_id: id, build_id: knife.id, whereabouts: knife.whereabouts, with_whom: knife.withWhom },
      ...{ state: knife.state, held_for: knife.heldFor, value_micro: knife.valueMicro },
    });
  }
  others.forEach((other, position) => {
    insertOther(ctx.db, {
      ...{ stocktake_id: id, position, kind: other.kind },
      ...{ label: other.label, value_micro: other.valueMicro },
    });
  });
}

/** Books all differences in one go and keeps the stocktake as it is now. */
export const finish: HandlerFor<'stocktake.finish'> = {
  run(ctx, { id, uncounted }) {
    needWorkshop(ctx.db);
    const stocktake = needOpenStocktake(ctx.db, id);
    // The clock may have been set back since it was started.
    demandCome(ctx.clock.today(), stocktake.on_date);
    const open = readStocktake(ctx.db, id);
    if (open.missing.length > 0)
      throw refused(
        `${open.missing.length} ${open.missing.length === 1 ? 'lot was' : 'lots were'} written down for that day since the sheet was made. Put ${open.missing.length === 1 ? 'it' : 'them'} on the sheet first.`,
      );
    demandCounted(open.sheet, uncounted);
    demandReasons(open.sheet);
    demandKnivesSeen(open);
    demandYearOpen(ctx, stocktake.on_date, open.sheet);
    const at = placesOf(stocktake).length === 0 ? stockAt(ctx.db, stocktake.on_date) : null;
    const booked = bookedTotals(at, open.sheet);
    const kept = countedTotals(booked, bookLines(ctx, stocktake, open.sheet));
    keepTheRest(ctx, id, { ...open, others: at === null ? [] : othersThen(at) });
    updateStocktake(ctx.db, id, {
      ...{ state: 'finished', ended_at: ctx.clock.now(), booked_micro: booked.totalMicro },
      ...{ materials_micro: kept.materialsMicro, supplies_micro: kept.suppliesMicro },
      ...{ opened_micro: kept.openedMicro, in_work_micro: kept.inWorkMicro },
      finished_micro: kept.finishedMicro,
    });
    return readStocktake(ctx.db, id);
  },
};

/** Ends it without booking anything; what was counted stays readable. */
export const drop: HandlerFor<'stocktake.drop'> = {
  run(ctx, { id, reason }) {
    needWorkshop(ctx.db);
    const stocktake = needOpenStocktake(ctx.db, id);
    const note = [stocktake.note, `Dropped: ${reason}`].filter((part) => part !== '').join('\n');
    updateStocktake(ctx.db, id, { state: 'dropped', ended_at: ctx.clock.now(), note });
    return toHead(needStocktake(ctx.db, id));
  },
};

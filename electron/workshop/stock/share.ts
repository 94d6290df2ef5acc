/** Taking the equal share of a bar, sheet or block that is planned for so many blanks. */
import { invalid, refused } from '../../api/errors.ts';
import type { ItemForm } from '../../api/stock.ts';
import { blanksLeft, planCut, restsInLast } from '../../domain/cutting.ts';
import { roundHalfAway } from '../../domain/integers.ts';
import { ok, type Outcome, refuse } from '../../domain/outcome.ts';
import { drawLot } from '../../domain/stock.ts';
import { type LotLeft, lotsLeft, lowestSince, tagOf } from '../../storage/queries/lots.ts';
import { valueOrRefuse } from '../answers.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import {
  cameBackSince,
  demandNamedLot,
  demandReceived,
  type DrawBooked,
  type DrawOrder,
  needItem,
  type NeededItem,
  onItsDay,
  postDraws,
  toLotState,
} from './draw.ts';
import { describer } from './views.ts';

/** A share is one blank's part; `qty` of the order is the blank itself, without kerf and waste. */
export interface ShareOrder extends DrawOrder {
  readonly perBar: number;
}

/** Size of one bar, sheet or piece of a lot: several pieces of one purchase line may lie in one lot. */
const oneThing = (lot: LotLeft): number => lot.qty_each ?? lot.qty_received;

function shareOfBar(item: NeededItem, lot: LotLeft, order: ShareOrder): Outcome<number> {
  const bar = {
    barLeft: lot.qty_left,
    barReceived: lot.qty_received,
    blankLength: order.qty,
    kerf: item.kerf_nm,
  };
  const sharing = { rule: 'whole-bar', blanksPerBar: order.perBar } as const;
  const plan = planCut({ ...bar, blanks: 1, usefulRemnant: item.useful_remnant, sharing }, describer(item));
  return plan.ok ? ok(plan.value.takes[0]?.qty ?? 0) : plan;
}

/** Forms whose usual amount is a size that must fit into the share; a count of pieces says only what one is called. */
const sized: readonly string[] = ['area', 'weight', 'volume'] satisfies ItemForm[];

function shareOfPiece(item: NeededItem, lot: LotLeft, order: ShareOrder): Outcome<number> {
  const share = roundHalfAway(oneThing(lot), order.perBar);
  const describe = describer(item);
  if (sized.includes(item.form) && order.qty > share) {
    return refuse(
      `A share of ${describe(share)} is less than the ${describe(order.qty)} needed. Plan fewer from one ${item.piece_word || 'piece'}.`,
    );
  }
  const shares = order.perBar * roundHalfAway(lot.qty_received, oneThing(lot));
  const left = blanksLeft(lot.qty_left, lot.qty_received, shares);
  if (left < 1) return refuse(`Less than one share of ${describe(share)} is left of ${tagOf(lot.number)}.`);
  // Rounding of the shares must leave no crumb behind: the last one takes what is there.
  const takesAll = left === 1 && restsInLast(lot.qty_left - share, shares, item.useful_remnant);
  return ok(takesAll ? lot.qty_left : share);
}

/** How much of a lot one share takes, or why it has none. */
const shareOf = (item: NeededItem, lot: LotLeft, order: ShareOrder): Outcome<number> =>
  (item.form as ItemForm) === 'length' ? shareOfBar(item, lot, order) : shareOfPiece(item, lot, order);

interface Chosen {
  readonly lot: LotLeft;
  readonly qty: number;
}

function fromNamedLot(item: NeededItem, lots: readonly LotLeft[], order: ShareOrder): Chosen {
  const lot = lots.find((each) => each.id === order.lotId);
  if (lot === undefined)
    throw invalid(`Nothing is left of this lot of ${item.name}. Choose another one.`, 'lotId');
  demandReceived(lot, order.on);
  return { lot, qty: valueOrRefuse(shareOf(item, lot, order), 'lotId') };
}

function fromOldestLot(
  { db }: CommandContext,
  item: NeededItem,
  lots: readonly LotLeft[],
  order: ShareOrder,
): Chosen {
  demandNamedLot(item, lots);
  let why = `Nothing of ${item.name} was on the rack on ${order.on}. Enter a purchase or change the date.`;
  for (const lot of lots.filter((each) => each.received_on <= order.on)) {
    const share = shareOf(item, lot, order);
    const held = lowestSince(db, lot.id, order.on);
    if (share.ok && share.value <= held) return { lot, qty: share.value };
    why = share.ok
      ? cameBackSince(order.on, tagOf(lot.number), held, describer(item)).message
      : `${item.name}: ${share.message}`;
  }
  throw refused(why, 'lotId');
}

/**
 * Takes one share for a knife, from a named lot or from the oldest that has one left. The knife is not looked at here.
 * @throws FaultError when the day has not come yet, no lot has a share left, or the blank does not fit
 */
export function drawShare(ctx: CommandContext, order: ShareOrder): DrawBooked {
  demandCome(ctx.clock.today(), order.on);
  const item = needItem(ctx.db, order.itemId);
  const lots = lotsLeft(ctx.db, item.id);
  const chosen =
    order.lotId === undefined ? fromOldestLot(ctx, item, lots, order) : fromNamedLot(item, lots, order);
  const drawn = valueOrRefuse(drawLot(toLotState(chosen.lot), chosen.qty, describer(item)));
  const draws = onItsDay(ctx, item, order.on, drawn.draws);
  return postDraws(ctx, { draws }, order, order.qty);
}

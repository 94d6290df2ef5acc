/** Use-case: take stock for a knife. */
import { type FaultError, invalid, refused } from '../../api/errors.ts';
import type { Use } from '../../api/stock.ts';
import { groupBy } from '../../domain/groups.ts';
import { sumOf } from '../../domain/integers.ts';
import { type Draw, drawFifo, drawLot, type Drawn, leavable, type LotState } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { itemRow } from '../../storage/queries/items.ts';
import { type LotLeft, lotsLeft, lowestSince, tagOf } from '../../storage/queries/lots.ts';
import { partLabelOf } from '../../storage/queries/models.ts';
import { stageRow } from '../../storage/queries/workshop.ts';
import { valueOrRefuse } from '../answers.ts';
import { demandOpenFor, needBuild, touchBuild } from '../builds/touch.ts';
import type { CommandContext } from '../context.ts';
import { demandCome } from '../days.ts';
import type { HandlerFor } from '../handlers.ts';
import { needWorkshop } from '../workshop/need.ts';
import { atItsDay } from './late-average.ts';
import { needLot } from './lots.ts';
import { type NewMovement, post } from './post.ts';
import { describer } from './views.ts';

/** What is wanted for a knife. */
export interface DrawOrder {
  readonly buildId: string;
  readonly itemId: string;
  /** Undefined: the oldest first. */
  readonly lotId?: string | undefined;
  /** Base units of the item's form. */
  readonly qty: number;
  readonly use: Use;
  readonly stageCode?: string | null | undefined;
  readonly on: string;
  readonly reason?: string;
  /** The usual part it serves; undefined to look it up in the model. */
  readonly partLabel?: string;
  /** Step of the ladder it stands on; left out for material and for what is taken by hand. */
  readonly rung?: NewMovement['rung'];
}

export interface DrawBooked {
  readonly movementIds: readonly string[];
  readonly valueMicro: number;
}

/** What leaves the rack, and what all of it is worth. */
export type Picked = Pick<Drawn, 'draws' | 'valueMicro'>;

/** What is wanted of an item, whatever it is for. */
export type RackOrder = Pick<DrawOrder, 'lotId' | 'qty' | 'on'>;

/** An item. @throws FaultError `invalid` for an unknown id */
export function needItem(db: ReadDb, id: string) {
  const item = itemRow(db, id);
  if (item === undefined) throw invalid('This item does not exist any more. Choose another one.', 'itemId');
  return item;
}

export type NeededItem = ReturnType<typeof needItem>;

/** @throws FaultError `refused` when a lot came in after the day something is taken from it */
export function demandReceived(
  lot: { readonly number: number; readonly received_on: string },
  on: string,
): void {
  if (lot.received_on <= on) return;
  throw refused(
    `${tagOf(lot.number)} came in on ${lot.received_on}, after ${on}. Change the date or choose an older lot.`,
    'on',
  );
}

/** A lot as the domain values it; `at` is its place in the order of drawing. */
export const toLotState = (lot: Pick<LotLeft, 'id' | 'qty_left' | 'value_left_micro'>, at = 0): LotState => ({
  id: lot.id,
  qtyLeft: lot.qty_left,
  valueLeftMicro: lot.value_left_micro,
  order: at,
});

/** The same, for what is taken on a day gone by: no more than lay there then and on every day since. */
const thereSince =
  (db: ReadDb, on: string) =>
  (lot: Parameters<typeof toLotState>[0], at = 0): LotState => ({
    ...toLotState(lot, at),
    mostQty: lowestSince(db, lot.id, on),
  });

/** What lies there now may have come back or been found since the day something is taken from it. */
export function cameBackSince(
  on: string,
  what: string,
  held: number,
  describe: (qty: number) => string,
): FaultError {
  const had = held <= 0 ? 'nothing' : `only ${describe(held)}`;
  return refused(
    `On ${on} or a day after it the books had ${had} of ${what}; what lies there now was found or came back later. Take less, or write the day of that.`,
    'on',
  );
}

const listed = (lots: readonly LotLeft[], describe: (qty: number) => string): string =>
  lots.map((lot) => `${tagOf(lot.number)} (${describe(lot.qty_left)})`).join(', ');

/** @throws FaultError when the item's lots are told apart, several are left and none is named */
export function demandNamedLot(item: NeededItem, lots: readonly LotLeft[]): void {
  if (item.costing !== 'specific' || lots.length <= 1) return;
  throw refused(`Choose which lot of ${item.name} to take: ${listed(lots, describer(item))}.`, 'lotId');
}

function drawNamed(db: ReadDb, item: NeededItem, order: RackOrder & { readonly lotId: string }): Drawn {
  const lot = needLot(db, order.lotId);
  if (lot.item_id !== item.id) {
    throw invalid(
      `${tagOf(lot.number)} holds ${lot.item_name}, not ${item.name}. Choose another lot.`,
      'lotId',
    );
  }
  demandReceived(lot, order.on);
  return valueOrRefuse(drawLot(toLotState(lot), order.qty, describer(item)), 'qty');
}

function drawOldest(db: ReadDb, item: NeededItem, order: RackOrder): Drawn {
  const lots = lotsLeft(db, item.id);
  demandNamedLot(item, lots);
  const describe = describer(item);
  const there = lots.filter((lot) => lot.received_on <= order.on).map(thereSince(db, order.on));
  const later = lots.find((lot) => lot.received_on > order.on);
  const free = sumOf(there, leavable);
  if (free < order.qty && free < sumOf(there, (lot) => lot.qtyLeft)) {
    throw cameBackSince(order.on, item.name, free, describe);
  }
  if (later !== undefined && free < order.qty) {
    const had = free === 0 ? 'nothing' : `only ${describe(free)}`;
    throw refused(
      `On ${order.on} ${had} of ${item.name} was on the rack; the next came in on ${later.received_on}. Take less or change the date.`,
      'on',
    );
  }
  return valueOrRefuse(drawFifo(there, order.qty, describe), 'qty');
}

/**
 * On no day may a lot hold less than nothing.
 * @throws FaultError `refused` naming the lot and what it held
 */
function demandThereSince(db: ReadDb, on: string, draws: readonly Draw[]): void {
  for (const [lotId, own] of groupBy(draws, (draw) => draw.lotId)) {
    const held = lowestSince(db, lotId, on);
    if (held >= sumOf(own, (draw) => draw.qty)) continue;
    const lot = needLot(db, lotId);
    throw cameBackSince(on, tagOf(lot.number), held, describer(lot));
  }
}

/**
 * Draws as they may be booked on their day: it lay there all the time since, and at the moving average they cost what the
 * average was then.
 * @throws FaultError `refused` where either does not hold
 */
export function onItsDay(
  ctx: CommandContext,
  item: { readonly id: string; readonly costing: string },
  on: string,
  draws: readonly Draw[],
): readonly Draw[] {
  demandThereSince(ctx.db, on, draws);
  return item.costing === 'average' ? atItsDay(ctx, item.id, on, draws) : draws;
}

/**
 * Works out what leaves which lots and what it is worth, by the item's costing rule; the caller posts it.
 * @throws FaultError when the day has not come yet, the lot is unknown or not enough was there on that day
 */
export function pickFromRack(ctx: CommandContext, item: NeededItem, order: RackOrder): Picked {
  const { lotId, on } = order;
  demandCome(ctx.clock.today(), on);
  const drawn =
    lotId === undefined ? drawOldest(ctx.db, item, order) : drawNamed(ctx.db, item, { ...order, lotId });
  const draws = onItsDay(ctx, item, on, drawn.draws);
  return { draws, valueMicro: sumOf(draws, (draw) => draw.valueMicro) };
}

/** @throws FaultError `invalid` for a stage nobody knows */
export function knownStage(db: ReadDb, code: string | null | undefined): string | null {
  if (code == null || code === '') return null;
  if (stageRow(db, code) === undefined)
    throw invalid(`There is no stage ${code}. Choose one from the list.`, 'stageCode');
  return code;
}

/** Writes what was drawn for a knife, one movement per lot. @param netQty length of the blank itself, if it is one */
export function postDraws(
  ctx: CommandContext,
  drawn: Pick<Drawn, 'draws'>,
  order: Omit<DrawOrder, 'qty'>,
  netQty: number | null,
): DrawBooked {
  const movementIds = drawn.draws.map((draw) => {
    const id = ctx.newId();
    post(ctx.db, {
      id,
      lotId: draw.lotId,
      on: order.on,
      kind: 'draw',
      qty: -draw.qty,
      valueMicro: -draw.valueMicro,
      use: order.use,
      buildId: order.buildId,
      stageCode: order.stageCode ?? null,
      partLabel: order.partLabel ?? '',
      netQty,
      reason: order.reason ?? '',
      rung: order.rung ?? null,
    });
    return id;
  });
  return { movementIds, valueMicro: sumOf(drawn.draws, (draw) => draw.valueMicro) };
}

/**
 * Takes stock for a knife, from a named lot or the oldest first, and starts a knife that was only planned.
 * @throws FaultError when the knife is closed, the item or lot is unknown, or not enough was there on that day
 */
export function drawForBuild(ctx: CommandContext, order: DrawOrder): DrawBooked {
  const build = needBuild(ctx.db, order.buildId);
  demandOpenFor(build, order.use);
  const item = needItem(ctx.db, order.itemId);
  const stageCode = knownStage(ctx.db, order.stageCode);
  const drawn = pickFromRack(ctx, item, order);
  const partLabel = order.partLabel ?? partLabelOf(ctx.db, build.model_id, item.id, order.use);
  touchBuild(ctx.db, build.id, order.on);
  return postDraws(ctx, drawn, { ...order, stageCode, partLabel }, null);
}

/** Takes stock for a knife. */
export const draw: HandlerFor<'stock.draw'> = {
  run(ctx, input) {
    needWorkshop(ctx.db);
    return drawForBuild(ctx, input);
  },
};

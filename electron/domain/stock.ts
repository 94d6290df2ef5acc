/**
 * What stock is worth as it is drawn. Every lot carries its value, not a unit cost: a draw takes its share of the value
 * left, and the last draw takes all that remains, so no millionth is created or lost.
 */
import { allocate, mulDiv, sumOf } from './integers.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome, Refusal } from './outcome.ts';

/** One purchase or making, as it stands now. */
export interface LotState {
  readonly id: string;
  /** Base units left. */
  readonly qtyLeft: number;
  /** Value left, millionths of the currency unit. */
  readonly valueLeftMicro: number;
  /** Position in time: a lower one came in earlier. */
  readonly order: number;
  /** The most that may leave it, where it held less on the day it leaves than now; all that is left unless told. */
  readonly mostQty?: number;
}

/** What may leave a lot: at least nothing, and never more than is left. */
export const leavable = ({ qtyLeft, mostQty = qtyLeft }: Pick<LotState, 'qtyLeft' | 'mostQty'>): number =>
  Math.max(0, Math.min(qtyLeft, mostQty));

/** Part of one lot that leaves the rack. */
export interface Draw {
  readonly lotId: string;
  readonly qty: number;
  readonly valueMicro: number;
}

/** What was drawn and how the lots touched stand afterwards. */
export interface Drawn {
  readonly draws: readonly Draw[];
  readonly valueMicro: number;
  readonly lots: readonly LotState[];
}

/** Writes a quantity for a sentence; callers pass one that knows form and unit. */
export type Describe = (qty: number) => string;

/** The share of a value that goes with part of a quantity, rounded to the millionth; the whole when all of it goes. */
export const shareOfValue = (valueMicro: number, qty: number, ofQty: number): number =>
  mulDiv(valueMicro, qty, ofQty);

const tooMuch = (qty: number, left: number, describe: Describe): Refusal =>
  refuse(
    left <= 0
      ? `Nothing is left of this to take ${describe(qty)} from. Enter a purchase or choose another lot.`
      : `Only ${describe(left)} left, too little to take ${describe(qty)}. Take less, enter a purchase or choose another lot.`,
  );

const notAboveZero = (): Refusal => refuse('The quantity taken must be above zero.');

const take = (lot: LotState, qty: number): { draw: Draw; lot: LotState } => {
  const valueMicro = shareOfValue(lot.valueLeftMicro, qty, lot.qtyLeft);
  return {
    draw: { lotId: lot.id, qty, valueMicro },
    lot: { ...lot, qtyLeft: lot.qtyLeft - qty, valueLeftMicro: lot.valueLeftMicro - valueMicro },
  };
};

/** Earliest first; lots of the same moment by id, so that a replay gives the same answer. */
const earliestFirst = (a: LotState, b: LotState): number => a.order - b.order || (a.id < b.id ? -1 : 1);

/** Draws from the earliest lots first. Refuses more than is left, and says how much there is. */
export const drawFifo = (
  lots: readonly LotState[],
  qty: number,
  describe: Describe = String,
): Outcome<Drawn> => {
  if (qty <= 0) return notAboveZero();
  const usable = lots.filter((lot) => leavable(lot) > 0).sort(earliestFirst);
  const left = sumOf(usable, leavable);
  if (qty > left) return tooMuch(qty, left, describe);
  const taken: { draw: Draw; lot: LotState }[] = [];
  let wanted = qty;
  for (const lot of usable) {
    if (wanted === 0) break;
    const part = take(lot, Math.min(wanted, leavable(lot)));
    taken.push(part);
    wanted -= part.draw.qty;
  }
  return ok(asDrawn(taken));
};

const asDrawn = (taken: readonly { draw: Draw; lot: LotState }[]): Drawn => ({
  draws: taken.map((part) => part.draw),
  valueMicro: sumOf(taken, (part) => part.draw.valueMicro),
  lots: taken.map((part) => part.lot),
});

/** Draws from one named lot. Refuses more than it holds, and says how much that is. */
export const drawLot = (lot: LotState, qty: number, describe: Describe = String): Outcome<Drawn> => {
  if (qty <= 0) return notAboveZero();
  if (qty > lot.qtyLeft) return tooMuch(qty, lot.qtyLeft, describe);
  return ok(asDrawn([take(lot, qty)]));
};

/** Several draws from one lot in a row, such as the blanks of one cut: one `Draw` each, and the lot at the end. */
export const drawLotParts = (
  lot: LotState,
  parts: readonly number[],
  describe: Describe = String,
): Outcome<{ readonly draws: readonly Draw[]; readonly lot: LotState }> => {
  const draws: Draw[] = [];
  let now = lot;
  for (const qty of parts) {
    const drawn = drawLot(now, qty, describe);
    if (!drawn.ok) return drawn;
    draws.push(...drawn.value.draws);
    now = drawn.value.lots[0] ?? now;
  }
  return ok({ draws, lot: now });
};

/** All of an item in one pool, for the moving average. The unit cost is derived, never stored. */
export interface Pool {
  readonly qty: number;
  readonly valueMicro: number;
}

/** A pool with nothing in it. */
export const emptyPool: Pool = { qty: 0, valueMicro: 0 };

/** Adds a receipt to the pool. */
export const poolReceive = (pool: Pool, qty: number, valueMicro: number): Pool => ({
  qty: pool.qty + qty,
  valueMicro: pool.valueMicro + valueMicro,
});

/** Draws at the moving average; the last draw takes what value remains. */
export const poolDraw = (
  pool: Pool,
  qty: number,
  describe: Describe = String,
): Outcome<{ readonly valueMicro: number; readonly pool: Pool }> => {
  if (qty <= 0) return notAboveZero();
  if (qty > pool.qty) return tooMuch(qty, pool.qty, describe);
  const valueMicro = shareOfValue(pool.valueMicro, qty, pool.qty);
  return ok({ valueMicro, pool: { qty: pool.qty - qty, valueMicro: pool.valueMicro - valueMicro } });
};

/** How far the value of each lot is from its even share of the pool, for the moving average. */
export interface Levelled {
  readonly lotId: string;
  /** Added to the lot's value; all of them add up to what the pool itself gains, usually nothing. */
  readonly deltaMicro: number;
}

/**
 * Draws the lots of one item level, so that a unit of each is worth the same, exact to the millionth. Lots that need no
 * change are left out. @param gainMicro value the pool gains at the same moment; zero unless told
 */
export const levelLots = (
  lots: readonly Pick<LotState, 'id' | 'qtyLeft' | 'valueLeftMicro'>[],
  gainMicro = 0,
): readonly Levelled[] => {
  const total = sumOf(lots, (lot) => lot.valueLeftMicro) + gainMicro;
  const held = lots.filter((lot) => lot.qtyLeft > 0);
  const shares = allocate(
    total,
    held.map((lot) => lot.qtyLeft),
  );
  const wanted = new Map(held.map((lot, at) => [lot.id, shares[at] ?? 0]));
  return lots
    .map((lot) => ({ lotId: lot.id, deltaMicro: (wanted.get(lot.id) ?? 0) - lot.valueLeftMicro }))
    .filter((each) => each.deltaMicro !== 0);
};

/** Derived unit cost of a pool, rounded; undefined when it is empty. @param perQty base units of one unit */
export const poolUnitCostMicro = (pool: Pool, perQty: number): number | undefined =>
  pool.qty === 0 ? undefined : mulDiv(pool.valueMicro, perQty, pool.qty);

/** A receipt or a draw of a period, for the periodic weighted average. */
export interface PeriodTotals {
  readonly availableQty: number;
  readonly availableValueMicro: number;
  readonly drawnQty: number;
}

/** Weighted average over a whole period: one average of all that was available. The two parts add up to what came in. */
export const periodicAverage = (period: PeriodTotals): { drawnMicro: number; leftMicro: number } => {
  const { availableQty, availableValueMicro, drawnQty } = period;
  const drawnMicro = drawnQty === 0 ? 0 : shareOfValue(availableValueMicro, drawnQty, availableQty);
  return { drawnMicro, leftMicro: availableValueMicro - drawnMicro };
};

/**
 * Spreads freight over the lines of a purchase by their value, exact to the last unit of the scale given
 * (minor or micro). Lines without value share equally.
 */
export const spreadFreight = (lines: readonly { readonly value: number }[], freight: number): number[] =>
  allocate(
    freight,
    lines.map((line) => line.value),
  );

/**
 * What a pool comes to when the unit cost is rounded first, as many printed examples do. The books never use it; it
 * explains a figure someone brings along. `leakMicro` is value made from nothing, or lost when negative.
 */
export const withRoundedUnitCost = (
  pool: Pool,
  drawnQty: number,
  unitCostMicro: number,
  perQty: number,
): { drawnMicro: number; leftMicro: number; leakMicro: number } => {
  const drawnMicro = mulDiv(unitCostMicro, drawnQty, perQty);
  const leftMicro = mulDiv(unitCostMicro, pool.qty - drawnQty, perQty);
  return { drawnMicro, leftMicro, leakMicro: drawnMicro + leftMicro - pool.valueMicro };
};

/** What is used up over many knives: sharing what was opened, how long one lasts, and what a count found. */
import { allocate, mulDiv, sumOf } from './integers.ts';
import { ok, refuse, type Outcome } from './outcome.ts';
import { type Draw, leavable, type LotState, shareOfValue } from './stock.ts';

/** A knife's share of what was opened. */
export interface Weighted {
  readonly buildId: string;
  /** Above zero. */
  readonly weight: number;
}

/** What one knife carries of one lot. */
export interface ShareOfDraw extends Draw {
  readonly buildId: string;
}

/**
 * Shares what left the rack over knives by weight: quantities and values of the shares add up to what left, to the
 * last unit. Refuses what is too little to give every knife some.
 */
export const shareDraws = (
  draws: readonly Draw[],
  shares: readonly Weighted[],
): Outcome<readonly ShareOfDraw[]> => {
  const weights = shares.map((share) => share.weight);
  const parts = draws.flatMap((draw) => {
    const quantities = allocate(draw.qty, weights);
    // By the quantities, not the weights: a knife without quantity must not carry value.
    const values = allocate(draw.valueMicro, quantities);
    return shares.map(({ buildId }, at) => ({
      buildId,
      lotId: draw.lotId,
      qty: quantities[at] ?? 0,
      valueMicro: values[at] ?? 0,
    }));
  });
  const empty = shares.some(
    ({ buildId }) => sumOf(parts, (part) => (part.buildId === buildId ? part.qty : 0)) === 0,
  );
  return empty
    ? refuse('This is too little to share over so many knives. Name fewer knives.')
    : ok(parts.filter((part) => part.qty > 0));
};

/** One opening with the knives it was shared over. */
export interface OpeningShares {
  readonly id: string;
  /** Whole quantity opened, base units. */
  readonly qty: number;
  readonly shares: readonly Weighted[];
}

/** The part of one opening that is a knife's, in base units, unrounded. */
const partOf = ({ qty, shares }: OpeningShares, buildId: string): number => {
  const whole = sumOf(shares, (share) => share.weight);
  const own = sumOf(shares, (share) => (share.buildId === buildId ? share.weight : 0));
  return whole === 0 ? 0 : (qty * own) / whole;
};

/**
 * How many knives each opening served. A knife that took parts of several of the same kind counts for each by what it
 * took of it, so that the knives of all openings add up to the knives there are: two belts over the same three knives
 * served one and a half each.
 */
export const knivesPerOpening = (openings: readonly OpeningShares[]): ReadonlyMap<string, number> => {
  const took = new Map<string, number>();
  for (const opening of openings) {
    for (const { buildId } of opening.shares) {
      took.set(buildId, (took.get(buildId) ?? 0) + partOf(opening, buildId));
    }
  }
  return new Map(
    openings.map((opening) => [
      opening.id,
      opening.shares.reduce((so, { buildId }) => {
        const all = took.get(buildId) ?? 0;
        return all === 0 ? so : so + partOf(opening, buildId) / all;
      }, 0),
    ]),
  );
};

/** A lot in a count over all lots of an item, oldest first. */
export interface CountedLot extends LotState {
  readonly qtyReceived: number;
  /** What `priceQty` of it is worth when some is found: what the lot cost, or the moving average of all lots. */
  readonly priceMicro: number;
  readonly priceQty: number;
}

/** What a count changes in one lot; both signed, in is positive. */
export interface CountChange {
  readonly lotId: string;
  readonly qty: number;
  readonly valueMicro: number;
}

/** What is missing leaves the oldest lots first, at what they are worth now. */
const missingFrom = (lots: readonly CountedLot[], missing: number): CountChange[] => {
  let rest = missing;
  return lots.flatMap((lot) => {
    const qty = Math.min(rest, leavable(lot));
    if (qty === 0) return [];
    rest -= qty;
    return [{ lotId: lot.id, qty: -qty, valueMicro: 0 - shareOfValue(lot.valueLeftMicro, qty, lot.qtyLeft) }];
  });
};

/** What was found goes back to where it was taken last: newest first up to what each lot came with, at its price. */
const foundIn = (lots: readonly CountedLot[], found: number): CountChange[] => {
  let rest = found;
  const changes = lots.toReversed().flatMap((lot) => {
    const qty = Math.min(rest, Math.max(0, lot.qtyReceived - lot.qtyLeft));
    rest -= qty;
    return qty === 0 ? [] : [{ lot, qty }];
  });
  const newest = lots.at(-1);
  // More than ever came in: a gift, or a purchase nobody wrote down. It joins the newest.
  if (rest > 0 && newest !== undefined) {
    const same = changes.find(({ lot }) => lot === newest);
    if (same === undefined) changes.push({ lot: newest, qty: rest });
    else same.qty += rest;
  }
  return changes.map(({ lot, qty }) => ({
    lotId: lot.id,
    qty,
    valueMicro: mulDiv(lot.priceMicro, qty, lot.priceQty),
  }));
};

/**
 * Brings the books of an item to what was counted over all its lots.
 * @param lots every lot that may hold some, oldest first
 * @returns nothing when the books were right
 */
export const countChanges = (
  lots: readonly CountedLot[],
  countedQty: number,
): Outcome<readonly CountChange[]> => {
  const difference = countedQty - sumOf(lots, (lot) => lot.qtyLeft);
  if (difference === 0) return ok([]);
  if (difference < 0) return ok(missingFrom(lots, -difference));
  return lots.length === 0
    ? refuse('None of this was ever bought, so a count cannot value it. Enter the purchase first.')
    : ok(foundIn(lots, difference));
};

/** What a knife used of the thing counted, and how long it was worked on, in the period the difference belongs to. */
export interface PeriodUse {
  readonly buildId: string;
  readonly usedQty: number;
  readonly minutes: number;
}

/**
 * Spreads what a count found missing (or found over, below zero) over the period's knives: by what they used, else by
 * bench minutes. The parts add up to the amount exactly; knives whose part is nothing are left out.
 */
export const spreadCount = (
  amountMicro: number,
  knives: readonly PeriodUse[],
): readonly { readonly buildId: string; readonly amountMicro: number; readonly by: 'use' | 'minutes' }[] => {
  const by = knives.some((knife) => knife.usedQty > 0) ? 'use' : 'minutes';
  const taking = knives.filter((knife) => (by === 'use' ? knife.usedQty : knife.minutes) > 0);
  if (taking.length === 0) return [];
  const parts = allocate(
    amountMicro,
    taking.map((knife) => (by === 'use' ? knife.usedQty : knife.minutes)),
  );
  return taking
    .map(({ buildId }, at) => ({ buildId, amountMicro: parts[at] ?? 0, by }) as const)
    .filter((part) => part.amountMicro !== 0);
};

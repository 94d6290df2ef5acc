/** What has to be bought: what open knives need and the shelf should hold, less what is there or on its way. */
import { addDays } from './calendar.ts';
import { roundHalfAway, sumOf } from './integers.ts';

/** What one knife still needs of an item. */
export interface Need {
  readonly buildId: string;
  readonly serial: string;
  /** Base units of the item's form. */
  readonly qty: number;
  /** The day work on the knife is planned to begin, `YYYY-MM-DD`. */
  readonly wantedOn: string;
}

/** A usual part of a model, and what one knife took of it; base units, as the books hold them. */
export interface UsualPart {
  readonly form: string;
  readonly qty: number;
  readonly per_bar: number | null;
  readonly kerf_nm: number;
  readonly taken: number;
}

/**
 * What a knife still has to take of a part: a share of a bar, or the blank with its kerf. A share once taken is taken whole.
 * @param barQty size of one piece as it was bought last; null when never bought
 */
export function stillToTake(part: UsualPart, barQty: number | null): number {
  if (part.per_bar !== null && barQty !== null)
    return part.taken > 0 ? 0 : roundHalfAway(barQty, part.per_bar);
  const missing = Math.max(0, part.qty - part.taken);
  return missing > 0 && part.form === 'length' ? missing + part.kerf_nm : missing;
}

/** An item as it stands, and how it comes: whole bars, boxes, kits. */
export interface Supply {
  readonly onRackQty: number;
  readonly onOrderQty: number;
  /** The maker wants at least this much left. */
  readonly lowLevel: number;
  /** Size of one piece as it was bought last; null when never bought. */
  readonly qtyEach: number | null;
  /** Price of one piece as it was paid last, millionths. */
  readonly priceEachMicro: number | null;
  readonly leadDays: number;
}

/** What to buy of one item. */
export interface ToBuy {
  readonly neededQty: number;
  readonly shortQty: number;
  readonly pieces: number;
  readonly qtyEach: number;
  readonly priceMicro: number | null;
  /** The day the first knife goes without; null when only the shelf runs low. */
  readonly wantedOn: string | null;
  /** Wanted day less the lead time. */
  readonly orderBy: string | null;
  readonly late: boolean;
}

const byDay = (a: Need, b: Need): number =>
  a.wantedOn === b.wantedOn ? a.serial.localeCompare(b.serial) : a.wantedOn < b.wantedOn ? -1 : 1;

/** The day on which stock runs out, serving the earliest knives first. */
const firstUnserved = (needs: readonly Need[], available: number): string | null => {
  let left = available;
  for (const need of [...needs].sort(byDay)) {
    left -= need.qty;
    if (left < 0) return need.wantedOn;
  }
  return null;
};

/**
 * What to buy of one item, or nothing when there is enough.
 * Rounds up to whole pieces as they were bought last.
 */
export const toBuy = (needs: readonly Need[], supply: Supply, today: string): ToBuy | undefined => {
  const neededQty = sumOf(needs, (need) => need.qty);
  const available = supply.onRackQty + supply.onOrderQty;
  const shortQty = Math.max(0, neededQty + supply.lowLevel - available);
  if (shortQty === 0) return undefined;
  const qtyEach = supply.qtyEach ?? shortQty;
  const pieces = Math.ceil(shortQty / qtyEach);
  const wantedOn = firstUnserved(needs, available);
  const orderBy = wantedOn === null ? null : addDays(wantedOn, -supply.leadDays);
  return {
    neededQty,
    shortQty,
    pieces,
    qtyEach,
    priceMicro: supply.priceEachMicro === null ? null : supply.priceEachMicro * pieces,
    wantedOn,
    orderBy,
    late: orderBy !== null && orderBy < today,
  };
};

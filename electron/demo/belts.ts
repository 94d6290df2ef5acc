/**
 * What the maker ticks at the grinder: a new belt of a grit goes on whenever the use so far passes a whole belt, and the
 * old one goes to the dull peg. Stock falls by use here, so this only says how long each belt lasted.
 */
import type { Ask } from './desk.ts';

/** A belt in use: the knives it served so far, with thousandths of a belt each. */
export interface InUse {
  readonly openingId: string;
  /** Thousandths that are left of it. */
  left: number;
  readonly served: Map<string, number>;
}

export type BeltsInUse = Map<string, InUse>;

/** One knife's use of one belt. */
interface Use {
  readonly itemId: string;
  readonly buildId: string;
  readonly stageCode: string;
  readonly on: string;
}

const WHOLE = 1000;

/** Writes down which knives a belt served, once it is known. */
export async function shareBelts(ask: Ask, belts: Iterable<InUse>): Promise<void> {
  for (const { openingId, served } of belts) {
    const shares = [...served].map(([buildId, weight]) => ({ buildId, weight }));
    if (shares.length > 0) await ask('consumables.share', { openingId, shares });
  }
}

async function newBelt(ask: Ask, belts: BeltsInUse, use: Use): Promise<InUse> {
  const { itemId, on, stageCode } = use;
  const old = belts.get(itemId);
  if (old !== undefined) await shareBelts(ask, [old]);
  const replaces = old === undefined ? {} : { replacesId: old.openingId };
  const opening = await ask('consumables.open', { itemId, on, stageCode, shares: [], ...replaces });
  const belt = { openingId: opening.id, left: WHOLE, served: new Map<string, number>() };
  belts.set(itemId, belt);
  return belt;
}

/** Notes that a knife used so many millionths of a belt. */
export async function useBelt(ask: Ask, belts: BeltsInUse, use: Use, millionths: number): Promise<void> {
  let wanted = Math.round(millionths / WHOLE);
  while (wanted > 0) {
    const now = belts.get(use.itemId);
    const belt = now === undefined || now.left === 0 ? await newBelt(ask, belts, use) : now;
    const part = Math.min(wanted, belt.left);
    belt.left -= part;
    wanted -= part;
    belt.served.set(use.buildId, (belt.served.get(use.buildId) ?? 0) + part);
  }
}

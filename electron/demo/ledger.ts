/** What is known while the demo workshop is replayed: identifiers by serial and item, and what lies on the rack. */
import type { BeltsInUse } from './belts.ts';
import type { Ask } from './desk.ts';
import type { Picture } from './pictures/knives.ts';
import type { House } from './set-up.ts';
import type { ItemKey } from './tables/items.ts';
import type { Variant } from './tables/models.ts';

export interface Ledger {
  readonly ask: Ask;
  /** Models change when the maker changes a way of working. */
  house: House;
  readonly buildIds: Map<string, string>;
  readonly lotIds: Map<ItemKey, string[]>;
  /** Left of each item, base units. */
  readonly left: Map<ItemKey, number>;
  /** Used before it was bought: comes off the next purchase. */
  readonly owed: Map<ItemKey, number>;
  /** Drawn once per model. */
  readonly pictures: Map<Variant, Promise<Picture>>;
  readonly recipes: Map<string, string>;
  /** The heat each knife was hardened in. */
  readonly heatIds: Map<string, string>;
  /** Belts in use, by item. */
  readonly belts: BeltsInUse;
}

/** One thing done on a day. Of one day, the lower order comes first. */
export interface Step {
  readonly on: string;
  readonly order: number;
  run(ledger: Ledger): Promise<void>;
}

/** @throws Error when the knife is not planned yet: the tables contradict each other */
export const idOf = (ledger: Ledger, serial: string): string => {
  const id = ledger.buildIds.get(serial);
  if (id === undefined) throw new Error(`${serial} is not planned yet`);
  return id;
};

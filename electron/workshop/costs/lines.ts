/** On which line of the cost sheet a cost stands. One rule, used by the sheet and by every list of sums. */
import type { ItemKind, Use } from '../../api/stock.ts';

/** Words for what an item is: on a sheet where a draw served no named part, and beside what was found. */
export const kindWords: Readonly<Record<ItemKind, string>> = {
  steel: 'Steel',
  handle: 'Handle',
  fitting: 'Fittings',
  adhesive: 'Glue',
  sheath: 'Sheath',
  blank: 'Blank',
  belt: 'Belts',
  paper: 'Paper',
  stone: 'Stones',
  disc: 'Discs',
  oil: 'Oil',
  fuel: 'Fuel',
  chemical: 'Chemicals',
  sundry: 'Sundries',
  packaging: 'Packaging',
};

/** Line of a draw used as material: the part it served, else what the item is. */
export const lineOfDraw = (draw: { readonly part_label: string; readonly kind: string }): string =>
  draw.part_label === '' ? kindWords[draw.kind as ItemKind] : draw.part_label;

/** Costs by use; materials keep their lines, in the order they first come. */
export interface ByUse<T> {
  readonly materials: ReadonlyMap<string, readonly T[]>;
  readonly consumable: readonly T[];
  readonly energy: readonly T[];
  readonly packaging: readonly T[];
}

export interface Placed<T> {
  readonly use: Use;
  /** Only looked at for materials. */
  readonly line: string;
  readonly entry: T;
}

/** Sorts entries onto the lines of the sheet; what comes first stands first. */
export function byUse<T>(placed: readonly Placed<T>[]): ByUse<T> {
  const materials = new Map<string, T[]>();
  const of = (use: Use): T[] => placed.filter((one) => one.use === use).map((one) => one.entry);
  for (const { use, line, entry } of placed) {
    if (use !== 'material') continue;
    const entries = materials.get(line);
    if (entries) entries.push(entry);
    else materials.set(line, [entry]);
  }
  return { materials, consumable: of('consumable'), energy: of('energy'), packaging: of('packaging') };
}

/** How many knives of a model the rack is enough for, beside what open knives still take. */
import type { NextDetail } from '../../api/next.ts';
import type { ItemForm } from '../../api/stock.ts';
import { stillToTake } from '../../domain/buying.ts';
import { groupBy } from '../../domain/groups.ts';
import { sumOf } from '../../domain/integers.ts';
import { enoughFor } from '../../domain/next-up.ts';
import type { ReadDb } from '../../storage/db.ts';
import { lastBought, openNeeds } from '../../storage/queries/buying.ts';
import { lotsLeft, type ModelPart, partsOfModels } from '../../storage/queries/offered.ts';

/** Forms of which two lots never make one piece. */
const APART = new Set(['length', 'area', 'weight']);

type Part = NextDetail['parts'][number];

/** What lies there and what is spoken for, by item. */
class Shelf {
  readonly #db: ReadDb;
  readonly #lots: ReadonlyMap<string, readonly { readonly qty_left: number }[]>;
  readonly #needs: ReadonlyMap<string, ReturnType<typeof openNeeds>>;
  readonly #bars = new Map<string, number | null>();

  constructor(db: ReadDb) {
    this.#db = db;
    this.#lots = groupBy(lotsLeft(db), (lot) => lot.item_id);
    this.#needs = groupBy(openNeeds(db, undefined), (need) => need.item_id);
  }

  /** Size of one piece as it was bought last. */
  #bar(itemId: string): number | null {
    const known = this.#bars.get(itemId);
    if (known !== undefined) return known;
    const found = lastBought(this.#db, itemId)?.qty_each ?? null;
    this.#bars.set(itemId, found);
    return found;
  }

  /** What one knife takes of an item under all its labels, and for how many that is enough. */
  part(parts: readonly ModelPart[]): Part | undefined {
    const [first] = parts;
    if (first === undefined) return undefined;
    const bar = this.#bar(first.item_id);
    const lots = (this.#lots.get(first.item_id) ?? []).map((lot) => lot.qty_left);
    const perKnife = sumOf(parts, (part) => stillToTake({ ...part, taken: 0 }, bar));
    const spokenFor = (this.#needs.get(first.item_id) ?? [])
      .map((need) => stillToTake(need, bar))
      .filter((qty) => qty > 0);
    const tolerance = Math.max(...parts.map((part) => part.per_bar ?? 0));
    const joins = !APART.has(first.form);
    return {
      itemId: first.item_id,
      itemName: first.item_name,
      form: first.form as ItemForm,
      unit: first.unit,
      pieceWord: first.piece_word,
      perKnifeQty: perKnife,
      onRackQty: sumOf(lots, (lot) => lot),
      spokenForQty: sumOf(spokenFor, (qty) => qty),
      main: first.form !== 'worth' && parts.some((part) => part.use_as === 'material'),
      enoughFor: enoughFor({ perKnife, lots, joins, spokenFor, tolerance }),
    };
  }
}

/** Parts of every model with what the rack is enough for, the scarcest first. */
export function rackByModel(db: ReadDb): ReadonlyMap<string, readonly Part[]> {
  const shelf = new Shelf(db);
  const models = groupBy(partsOfModels(db), (part) => part.model_id);
  return new Map(
    [...models].map(([modelId, parts]) => [
      modelId,
      [...groupBy(parts, (part) => part.item_id).values()]
        .flatMap((own) => shelf.part(own) ?? [])
        .toSorted((a, b) => a.enoughFor - b.enoughFor),
    ]),
  );
}

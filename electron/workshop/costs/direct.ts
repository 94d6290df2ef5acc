/** Direct cost of many knives at once, to the same cents as their cost sheets. */
import { buildCostSheet, type CostEntry } from '../../domain/cost-sheet.ts';
import type { Use } from '../../api/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { chargeSums, drawSums } from '../../storage/queries/costs.ts';
import { byUse, lineOfDraw, type Placed } from './lines.ts';

/** Lines as shown, added up. Amounts in the minor unit. */
export interface DirectCost {
  readonly materialsMinor: number;
  readonly consumablesMinor: number;
  readonly energyMinor: number;
  readonly packagingMinor: number;
  readonly directMinor: number;
}

type Entries = readonly Placed<CostEntry>[];

function directOf(entries: Entries, decimals: number): DirectCost {
  const uses = byUse(entries);
  const sheet = buildCostSheet({
    decimals,
    materials: [...uses.materials].map(([label, own]) => ({ label, entries: own })),
    consumables: uses.consumable,
    energy: uses.energy,
    packaging: uses.packaging,
    stages: [],
  });
  return {
    materialsMinor: sheet.materialsMinor,
    consumablesMinor: sheet.consumables.amountMinor,
    energyMinor: sheet.energy.amountMinor,
    packagingMinor: sheet.packaging.amountMinor,
    directMinor: sheet.directMinor,
  };
}

/**
 * Direct cost by knife. Every knife asked for has an answer, zero where nothing is booked.
 * @param upTo what was booked by the end of that day; left out: all that stands
 */
export function directCosts(
  db: ReadDb,
  buildIds: readonly string[],
  decimals: number,
  upTo?: string,
): Map<string, DirectCost> {
  const entries = new Map<string, Placed<CostEntry>[]>(buildIds.map((id) => [id, []]));
  const add = (buildId: string | null, use: string | null, line: string, valueMicro: number): void => {
    entries.get(buildId ?? '')?.push({ use: use as Use, line, entry: { valueMicro } });
  };
  const ids = [...entries.keys()];
  for (const row of drawSums(db, ids, upTo)) add(row.build_id, row.use_as, lineOfDraw(row), row.value_micro);
  for (const row of chargeSums(db, ids, upTo)) add(row.build_id, row.use_as, row.label, row.value_micro);
  return new Map([...entries].map(([id, own]) => [id, directOf(own, decimals)]));
}

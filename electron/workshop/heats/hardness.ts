/** What hardness records and recipes gave, from the checks at the gates. */
import type { HardnessScale } from '../../api/gates.ts';
import { comparable, meanOf } from '../../domain/gates.ts';
import type { ReadDb } from '../../storage/db.ts';
import { hardnessReadings, recipesOfHeats } from '../../storage/queries/heats.ts';

type Reading = ReturnType<typeof hardnessReadings>[number];

/** One check as thousandths of HRC: the mean of its readings. Null where its scale cannot be turned into HRC. */
function meanHrc(readings: readonly Reading[]): number | null {
  const scale = (readings[0]?.scale ?? null) as HardnessScale | null;
  const { values } = comparable(
    'hardness',
    readings.map((reading) => reading.value),
    scale,
  );
  return meanOf(values);
}

/** Mean hardness of every check by the record it belongs to, thousandths of HRC. */
export function hardnessByHeat(db: ReadDb): Map<string, number[]> {
  const checks = new Map<string, Reading[]>();
  for (const reading of hardnessReadings(db)) {
    checks.set(reading.id, [...(checks.get(reading.id) ?? []), reading]);
  }
  const heats = new Map<string, number[]>();
  for (const readings of checks.values()) {
    const heatId = readings[0]?.heat_id ?? null;
    const mean = meanHrc(readings);
    if (heatId !== null && mean !== null) heats.set(heatId, [...(heats.get(heatId) ?? []), mean]);
  }
  return heats;
}

/** The same by recipe. */
export function hardnessByRecipe(db: ReadDb): Map<string, number[]> {
  const heats = hardnessByHeat(db);
  const recipes = new Map<string, number[]>();
  for (const { id, recipe_id } of recipesOfHeats(db)) {
    const values = heats.get(id);
    if (recipe_id !== null && values !== undefined)
      recipes.set(recipe_id, [...(recipes.get(recipe_id) ?? []), ...values]);
  }
  return recipes;
}

/** Use-case: whether knives of larger batches take less time. */
import type { BatchSize } from '../../api/asked.ts';
import { groupBy } from '../../domain/groups.ts';
import { quartilesOf } from '../../domain/next-up.ts';
import { factorFromTable } from '../../domain/practice.ts';
import type { ReadDb } from '../../storage/db.ts';
import { batchKnives } from '../../storage/queries/asked.ts';
import { begunKnives, practiceOf } from '../../storage/queries/trials.ts';
import { familyOf } from '../trials/gather.ts';

const PPM = 1_000_000;

type Knife = ReturnType<typeof batchKnives>[number];

/** How practised the hand was at each knife: by the maker's table, 1 where there is none. */
function practiceFactors(db: ReadDb, knives: readonly Knife[]): Map<string, number> {
  const factors = new Map<string, number>();
  const families = groupBy(knives, (knife) => familyOf({ id: knife.model_id, family: knife.family }));
  for (const [family, own] of families) {
    const [first] = own;
    if (first === undefined) continue;
    const table = practiceOf(db, family).map((ppm) => ppm / PPM);
    begunKnives(db, { id: first.model_id, family: first.family }).forEach((knife, at) =>
      factors.set(knife.id, factorFromTable(table, at + 1) ?? 1),
    );
  }
  return factors;
}

/** Booked to usual minutes by the size of the batch, the smallest first. */
export function batchSizes(db: ReadDb): BatchSize[] {
  const knives = batchKnives(db).filter((knife) => knife.usual > 0);
  const factors = practiceFactors(db, knives);
  const pace = (knife: Knife): number => (knife.minutes * PPM) / knife.usual;
  return [...groupBy(knives, (knife) => knife.size)]
    .map(([size, own]) => ({
      size,
      batches: new Set(own.map((knife) => knife.batch)).size,
      knives: own.length,
      pace: quartilesOf(own.map(pace)),
      practised: quartilesOf(own.map((knife) => pace(knife) / (factors.get(knife.id) ?? 1))),
    }))
    .toSorted((a, b) => a.size - b.size);
}

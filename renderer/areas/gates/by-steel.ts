/** Hardness and edge checks gathered by steel and bar. */
import type { Check } from '../../../electron/api/gates.ts';
import { comparable, meanOf } from '../../../electron/domain/gates.ts';

export interface SteelRow {
  readonly key: string;
  readonly steel: string;
  readonly heatNumber: string;
  /** Knives with a hardness that stands. */
  readonly n: number;
  /** Thousandths of HRC. */
  readonly mean: number | null;
  readonly least: number;
  readonly most: number;
  readonly edges: number;
  readonly edgesPassed: number;
}

/** The newest check of each knife that stands; the lists come newest first. */
function standing(checks: readonly Check[]): Map<string, Check> {
  const newest = new Map<string, Check>();
  for (const check of checks) {
    if (check.voidedReason === null && !newest.has(check.buildId)) newest.set(check.buildId, check);
  }
  return newest;
}

const hrcOf = (check: Check): number | null =>
  meanOf(
    comparable(
      'hardness',
      check.readings.map((reading) => reading.value),
      check.scale,
    ).values,
  );

/** One row for each steel and bar with a measured hardness. */
export function bySteel(hardness: readonly Check[], edges: readonly Check[]): SteelRow[] {
  const edgeOf = standing(edges);
  const groups = new Map<string, { check: Check; hrc: number }[]>();
  for (const check of standing(hardness).values()) {
    const hrc = hrcOf(check);
    if (hrc === null) continue;
    const key = `${check.steelName ?? ''}/${check.heatNumber}`;
    groups.set(key, [...(groups.get(key) ?? []), { check, hrc }]);
  }
  return [...groups]
    .map(([key, members]) => {
      const values = members.map((member) => member.hrc);
      const tried = members.flatMap((member) => edgeOf.get(member.check.buildId) ?? []);
      return {
        key,
        steel: members[0]?.check.steelName ?? 'steel not known',
        heatNumber: members[0]?.check.heatNumber ?? '',
        n: values.length,
        mean: meanOf(values),
        least: Math.min(...values),
        most: Math.max(...values),
        edges: tried.length,
        edgesPassed: tried.filter((check) => check.verdict === 'pass').length,
      };
    })
    .sort((a, b) => a.steel.localeCompare(b.steel));
}

/** Which own knives come nearest to one that is wished for. Steps, not a score: each can be said in words. */

/** What is compared of a knife. */
export interface Likeness {
  readonly modelId: string;
  /** Nanometres; null is not known. */
  readonly bladeNm: number | null;
  readonly steel: string;
  readonly finish: string;
  readonly method: string;
}

export interface Near {
  /** 0 is alike in everything that is known. */
  readonly steps: number;
  /** What is not alike. */
  readonly unlike: readonly ('model' | 'size' | 'steel' | 'finish' | 'method')[];
}

/** Two blades within a tenth are of one size, within a quarter nearly. Common practice, no source. */
const ONE_SIZE = 0.1;
const NEARLY = 0.25;

const same = (a: string, b: string): boolean => a.trim().toLowerCase() === b.trim().toLowerCase();
/** What nobody wrote down does not tell knives apart. */
const differs = (a: string, b: string): number => (a.trim() === '' || b.trim() === '' || same(a, b) ? 0 : 1);

function sizeSteps(a: number | null, b: number | null): number {
  if (a === null || b === null) return 0;
  const apart = Math.abs(a - b) / Math.max(a, b);
  if (apart <= ONE_SIZE) return 0;
  return apart <= NEARLY ? 1 : 2;
}

/** How far a knife is from the one wished for. Another model counts two steps, everything else one. */
export function nearnessOf(knife: Likeness, wish: Likeness): Near {
  const steps = {
    model: knife.modelId === wish.modelId ? 0 : 2,
    size: sizeSteps(knife.bladeNm, wish.bladeNm),
    steel: differs(knife.steel, wish.steel),
    finish: differs(knife.finish, wish.finish),
    method: differs(knife.method, wish.method),
  };
  const unlike = (Object.keys(steps) as (keyof typeof steps)[]).filter((key) => steps[key] > 0);
  return { steps: Object.values(steps).reduce((so, step) => so + step, 0), unlike };
}

/**
 * The nearest of some knives: as many of the nearest as make `enough`, with all that are as near as the last of them,
 * no more than `most`, and none that is more than a step further than the nearest: two alike say more than they and
 * eight others.
 * @param knives newest first; of two equally near the newer one counts
 */
export function nearestOf<T extends { readonly near: Near }>(
  knives: readonly T[],
  { enough, most }: { readonly enough: number; readonly most: number },
): T[] {
  const ordered = knives.toSorted((a, b) => a.near.steps - b.near.steps);
  const first = ordered[0];
  const last = ordered[Math.min(enough, ordered.length) - 1];
  if (first === undefined || last === undefined) return [];
  const furthest = Math.min(last.near.steps, first.near.steps + 1);
  return ordered.filter((knife) => knife.near.steps <= furthest).slice(0, most);
}

/**
 * Measures ours against a bare floor in pairs taken turn about, so that a busy machine weighs on both sides alike.
 * A pair holds the best of three of each; what counts is the median of the pairs' ratios.
 */

/** One side of a comparison; both must bring the same result. */
export interface Side<T> {
  /** Gets ready, untimed; what it answers is handed to `run`. */
  readonly ready?: () => T | Promise<T>;
  /** Does the work once; where it times itself, it answers milliseconds. */
  readonly run: (made: T) => unknown;
  readonly tidy?: (made: T) => unknown;
}

interface Way {
  /** The work times itself (in a browser, say) and answers milliseconds. */
  readonly timesItself?: boolean;
  /** How often short work is done in one measurement. */
  readonly times?: number;
}

export interface Comparison<A, B> extends Way {
  readonly name: string;
  readonly ours: Side<A>;
  readonly floor: Side<B>;
  /** Highest median ratio that passes. */
  readonly limit: number;
  /** Said under the figures: what the floor is. */
  readonly floorIs: string;
  readonly pairs?: number;
}

const bestOf = 3;

const once = async <T>(side: Side<T>, { timesItself = false, times = 1 }: Way): Promise<number> => {
  const made = (await side.ready?.()) as T;
  const from = performance.now();
  let answer: unknown;
  for (let at = 0; at < times; at += 1) answer = await side.run(made);
  const took = timesItself ? Number(answer) : (performance.now() - from) / times;
  await side.tidy?.(made);
  return took;
};

/** Best of three of each, turn about. */
const pair = async <A, B>(spec: Comparison<A, B>): Promise<readonly [number, number]> => {
  const ours: number[] = [];
  const floor: number[] = [];
  for (let turn = 0; turn < bestOf; turn += 1) {
    ours.push(await once(spec.ours, spec));
    floor.push(await once(spec.floor, spec));
  }
  return [Math.min(...ours), Math.min(...floor)];
};

const median = (numbers: readonly number[]): number => {
  const sorted = numbers.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
};

const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};

/** Takes the pairs and prints them. A ratio over the limit makes the program end with 1. */
export const compare = async <A, B>(spec: Comparison<A, B>): Promise<void> => {
  await pair(spec);
  const taken: (readonly [number, number])[] = [];
  for (let at = 0; at < (spec.pairs ?? 15); at += 1) taken.push(await pair(spec));
  const ratios = taken.map(([ours, floor]) => ours / floor);
  const ratio = median(ratios);
  const range = `${Math.min(...ratios).toFixed(2)} to ${Math.max(...ratios).toFixed(2)}`;
  const times = [0, 1].map((side) => median(taken.map((both) => both[side] ?? Number.NaN)).toFixed(2));
  say(
    `${spec.name}: ${ratio.toFixed(2)} (allowed ${spec.limit.toFixed(2)}; ${range} over ${taken.length} pairs)`,
  );
  say(`  ${times[0] ?? ''} ms against ${times[1] ?? ''} ms: ${spec.floorIs}`);
  if (ratio > spec.limit) {
    say('  too slow');
    process.exitCode = 1;
  }
};

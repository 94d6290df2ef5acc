/** Quick plans the search in `nesting-bars-search.ts` starts from, so that what it finds beyond its steps is good too. */
import type { BarProblem, Pattern, SearchBar } from './nesting-bars-search.ts';

/** Patterns looked at for one bar. */
const LOOKS = 2_000;

const orders = ({ bars }: BarProblem): readonly (readonly number[])[] => {
  const places = bars.map((_, at) => at);
  const by = (sign: number) => (a: number, b: number) =>
    sign * ((bars[a]?.length ?? 0) - (bars[b]?.length ?? 0)) || a - b;
  return [places, places.toSorted(by(1)), places.toSorted(by(-1))];
};

/** Longest blank first into the fullest bar begun, else into the next bar. */
function firstFit(problem: BarProblem, order: readonly number[]): readonly Pattern[] {
  const { bars, types, kerf } = problem;
  const patterns = bars.map(() => types.map(() => 0));
  const room = bars.map((bar) => bar.length + kerf);
  const begun = new Set<number>();
  for (const [type, { length, count }] of types.entries()) {
    for (let blank = 0; blank < count; blank += 1) {
      const fits = order.filter((at) => (room[at] ?? 0) >= length + kerf);
      const open = fits.filter((at) => begun.has(at)).sort((a, b) => (room[a] ?? 0) - (room[b] ?? 0));
      const place = open[0] ?? fits[0];
      const pattern = place === undefined ? undefined : patterns[place];
      if (place === undefined || pattern === undefined) break;
      begun.add(place);
      pattern[type] = (pattern[type] ?? 0) + 1;
      room[place] = (room[place] ?? 0) - length - kerf;
    }
  }
  return patterns;
}

/** How a filled bar is judged, the weightiest first; smaller is better. */
type Taste = (behind: number) => readonly [number, number];

/** The best pattern for one bar that holds the longest blank still wanted, among the first so many looked at. */
function fillBar(problem: BarProblem, bar: SearchBar, left: readonly number[], taste: Taste): Pattern {
  const { types, kerf } = problem;
  const lead = types.findIndex((type, at) => (left[at] ?? 0) > 0 && type.length <= bar.length);
  const pattern = types.map(() => 0);
  let best: { pattern: Pattern; taste: readonly [number, number] } | undefined;
  let looks = 0;
  const look = (type: number, net: number, blanks: number): void => {
    looks += 1;
    if (looks > LOOKS) return;
    const one = types[type];
    if (one === undefined) {
      const now = taste(bar.length - net - blanks * kerf);
      const so = best?.taste;
      if (so === undefined || now[0] < so[0] || (now[0] === so[0] && now[1] < so[1]))
        best = { pattern: [...pattern], taste: now };
      return;
    }
    const room = Math.floor((bar.length + kerf - net - blanks * kerf) / (one.length + kerf));
    const least = type === lead ? 1 : 0;
    for (let count = Math.min(left[type] ?? 0, room); count >= least; count -= 1) {
      pattern[type] = count;
      look(type + 1, net + count * one.length, blanks + count);
    }
    pattern[type] = 0;
  };
  if (lead !== -1) look(lead, 0, 0);
  return best?.pattern ?? pattern;
}

/** One bar after the other, each filled as well as its taste allows. */
function fillInTurn(problem: BarProblem, order: readonly number[], taste: Taste): readonly Pattern[] {
  const patterns = problem.bars.map((): Pattern => problem.types.map(() => 0));
  let left: readonly number[] = problem.types.map((type) => type.count);
  for (const at of order) {
    const bar = problem.bars[at];
    if (bar === undefined || left.every((count) => count === 0)) continue;
    const pattern = fillBar(problem, bar, left, taste);
    patterns[at] = pattern;
    left = left.map((count, type) => count - (pattern[type] ?? 0));
  }
  return patterns;
}

/** Several plans, each in the order of the bars given. */
export function quickPlans(problem: BarProblem): readonly (readonly Pattern[])[] {
  const fullest: Taste = (behind) => [Math.max(0, behind), 0];
  const noShortEnd: Taste = (behind) =>
    behind > 0 && behind >= problem.usefulRemnant ? [0, behind] : [behind, behind];
  return orders(problem).flatMap((order) => [
    firstFit(problem, order),
    fillInTurn(problem, order, fullest),
    fillInTurn(problem, order, noShortEnd),
  ]);
}

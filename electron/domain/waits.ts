/**
 * Time nobody stands there for: kiln, temper, glue, etch. It moves dates and never costs labour.
 * Lengths are common practice, no source: usual ones to begin with, to be changed each time. The maker's sheet of the
 * glue, oil or acid, and the recipe of the steel, go before them.
 */

/** What is left to itself. */
export type WaitKind =
  'kiln' | 'temper' | 'anneal' | 'cold' | 'glue' | 'etch' | 'oilCoat' | 'leather' | 'pickle' | 'other';

/** A wait as it is offered. */
export interface UsualWait {
  readonly kind: WaitKind;
  /** As a label on the wait. */
  readonly name: string;
  /** What is offered, minutes. */
  readonly minutes: number;
  /** Between these it is common, minutes. */
  readonly shortest: number;
  readonly longest: number;
  /** Codes of the stages after which it is usual; the first wait of a stage is the one offered first. */
  readonly after: readonly string[];
}

const H = 60;

/** Usual waits, in the order of the work. */
export const usualWaits: readonly UsualWait[] = [
  { kind: 'anneal', name: 'Anneal', minutes: 10 * H, shortest: 8 * H, longest: 12 * H, after: ['FRG'] },
  {
    kind: 'pickle',
    name: 'Pickle off the scale',
    minutes: 12 * H,
    shortest: 4 * H,
    longest: 24 * H,
    after: ['FRG'],
  },
  {
    kind: 'temper',
    name: 'Temper, one cycle',
    minutes: 2 * H,
    shortest: H,
    longest: 4 * H,
    after: ['HTA'],
  },
  { kind: 'kiln', name: 'Kiln', minutes: 3 * H, shortest: H, longest: 4 * H, after: ['HTA'] },
  { kind: 'cold', name: 'Cold treatment', minutes: 12 * H, shortest: 8 * H, longest: 24 * H, after: ['HTA'] },
  { kind: 'temper', name: 'Clamped temper', minutes: 2 * H, shortest: H, longest: 4 * H, after: ['STR'] },
  { kind: 'etch', name: 'Etch soak', minutes: 45, shortest: 20, longest: 60, after: ['ETC'] },
  { kind: 'etch', name: 'Coffee soak', minutes: 3 * H, shortest: 2 * H, longest: 12 * H, after: ['ETC'] },
  {
    kind: 'glue',
    name: 'Epoxy cures',
    minutes: 16 * H,
    shortest: 12 * H,
    longest: 24 * H,
    after: ['HDL', 'FIT'],
  },
  {
    kind: 'oilCoat',
    name: 'Oil coat dries',
    minutes: 12 * H,
    shortest: 12 * H,
    longest: 48 * H,
    after: ['FIN'],
  },
  {
    kind: 'leather',
    name: 'Wet-formed leather dries',
    minutes: 18 * H,
    shortest: 12 * H,
    longest: 24 * H,
    after: ['SHE'],
  },
];

/** The waits that usually follow a stage, the most usual first. */
export const usualAfter = (stageCode: string | null): readonly UsualWait[] =>
  usualWaits.filter((usual) => stageCode !== null && usual.after.includes(stageCode));

/** A stretch of time, milliseconds since the epoch. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

/** Stretches joined where they touch or overlap, earliest first; empty and backward ones are left out. */
export const joined = (stretches: readonly Stretch[]): readonly Stretch[] => {
  const out: { from: number; to: number }[] = [];
  for (const { from, to } of [...stretches].sort((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (to <= from) continue;
    if (last !== undefined && from <= last.to) last.to = Math.max(last.to, to);
    else out.push({ from, to });
  }
  return out;
};

const MINUTE_MS = 60_000;

/** Whole minutes covered by at least one of the stretches: two kilns at once are one afternoon. */
export const coveredMinutes = (stretches: readonly Stretch[]): number =>
  Math.round(joined(stretches).reduce((so, { from, to }) => so + to - from, 0) / MINUTE_MS);

const DAY_MS = 86_400_000;

/** The first instant after `at` that lies on another local day. Days last 23 to 25 hours where clocks are changed. */
const nextDayAt = (at: number, dayOf: (at: number) => string): number => {
  const today = dayOf(at);
  let before = at;
  let after = at + DAY_MS + 2 * 60 * MINUTE_MS;
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2);
    if (dayOf(middle) === today) before = middle;
    else after = middle;
  }
  return after;
};

/**
 * Cuts a stretch at local midnights.
 * @param dayOf local day of an instant (milliseconds since the epoch), `YYYY-MM-DD`
 */
export const byDay = (
  stretch: Stretch,
  dayOf: (at: number) => string,
): readonly (Stretch & { readonly on: string })[] => {
  const out: (Stretch & { on: string })[] = [];
  for (let from = stretch.from; from < stretch.to;) {
    const to = Math.min(stretch.to, nextDayAt(from, dayOf));
    out.push({ on: dayOf(from), from, to });
    from = to;
  }
  return out;
};

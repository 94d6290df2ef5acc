/**
 * A quench bath as a small ledger: oil comes in with its value, every blade that is quenched takes its share of what
 * the oil still has before it, and whatever is left when the oil is changed is overhead. Value in = value out + left.
 */
import { mulDiv, sumOf } from './integers.ts';

/** One event of the bath's ledger that still stands. */
export interface BathEntry {
  readonly on: string;
  readonly kind: string;
  /** Nanolitres in (positive) or out (negative). */
  readonly qtyNl: number;
  /** Dips: a blade that goes in twice counts twice. A change takes back all there were. */
  readonly quenches: number;
  /** Millionths of the currency unit in (positive) or out (negative). */
  readonly valueMicro: number;
}

/** What is in the tank now. */
export interface BathState {
  readonly volumeNl: number;
  readonly valueMicro: number;
  /** Dips since the last fill. */
  readonly quenches: number;
  readonly filledOn: string | null;
  readonly filteredOn: string | null;
  /** The day water was suspected; null while it is not. */
  readonly waterOn: string | null;
}

/** An empty tank. */
export const emptyBath: BathState = {
  volumeNl: 0,
  valueMicro: 0,
  quenches: 0,
  filledOn: null,
  filteredOn: null,
  waterOn: null,
};

const marks = (state: BathState, entry: BathEntry): BathState => {
  if (entry.kind === 'fill') return { ...state, filledOn: entry.on, filteredOn: null, waterOn: null };
  if (entry.kind === 'change') return { ...state, filledOn: null, filteredOn: null, waterOn: null };
  if (entry.kind === 'filter') return { ...state, filteredOn: entry.on };
  return entry.kind === 'water' ? { ...state, waterOn: state.waterOn ?? entry.on } : state;
};

/** Adds up the ledger. @param entries in the order they were booked, without those taken back */
export const bathState = (entries: readonly BathEntry[]): BathState => ({
  ...entries.reduce(marks, emptyBath),
  volumeNl: sumOf(entries, (entry) => entry.qtyNl),
  valueMicro: sumOf(entries, (entry) => entry.valueMicro),
  quenches: sumOf(entries, (entry) => entry.quenches),
});

/** Dips the oil still has before it, never below one: oil past its limit still quenches, and what it is worth is spent. */
export const quenchesLeft = (lifeQuenches: number, quenches: number): number =>
  Math.max(1, lifeQuenches - quenches);

/**
 * What some dips take out of the bath: for each the value left over the dips left, which is the same for every one of
 * them; all that is left once they reach the end of its life. Zero where no life is set.
 * @returns millionths of the currency unit
 */
export const quenchCost = (
  state: Pick<BathState, 'valueMicro' | 'quenches'>,
  lifeQuenches: number | null,
  dips: number,
): number => {
  if (lifeQuenches === null) return 0;
  const left = quenchesLeft(lifeQuenches, state.quenches);
  return dips >= left ? state.valueMicro : mulDiv(state.valueMicro, dips, left);
};

/** Share of its life after which a bath is spoken of, in percent. A choice of this program, no rule of the trade. */
const SOON_PERCENT = 90;

/** What a maker set for the life of the oil. */
export interface BathLife {
  readonly lifeQuenches: number | null;
  readonly lifeDays: number | null;
}

const dipsDue = ({ quenches }: BathState, life: number): string | null => {
  if (quenches >= life) return `Change due: ${String(quenches)} quenches, the limit set is ${String(life)}.`;
  const soon = quenches * 100 >= life * SOON_PERCENT;
  return soon ? `Change soon: ${String(quenches)} of ${String(life)} quenches.` : null;
};

const daysDue = (age: number, life: number): string | null => {
  if (age >= life)
    return `Change due: the oil is ${String(age)} days old, the limit set is ${String(life)} days.`;
  return age * 100 >= life * SOON_PERCENT
    ? `Change soon: the oil is ${String(age)} of ${String(life)} days old.`
    : null;
};

/**
 * A sentence when the oil should be changed or looked at; null while there is nothing to say.
 * Suspected water comes first: a little water under hot oil turns to steam, foams over and feeds the fire.
 * @param age days since the fill
 */
export const bathDue = (state: BathState, life: BathLife, age: number): string | null => {
  if (state.volumeNl === 0) return null;
  if (state.waterOn !== null)
    return `Water suspected on ${state.waterOn}. Do not heat or use it: change the oil at once.`;
  const dips = life.lifeQuenches === null ? null : dipsDue(state, life.lifeQuenches);
  const days = life.lifeDays === null ? null : daysDue(age, life.lifeDays);
  const due = [dips, days].find((sentence) => sentence?.startsWith('Change due') === true);
  return due ?? dips ?? days;
};

/** 50 °F in thousandths of a kelvin: the distance to the flash point at which 29 CFR 1910.126(a) wants an alarm. */
export const FLASH_MARGIN_MILLI_K = 27_778;

/** True when oil is warmer than its flash point less 50 °F (27.8 K), or has no business being this hot. */
export const nearFlash = (oilMilliC: number, flashMilliC: number): boolean =>
  oilMilliC > flashMilliC - FLASH_MARGIN_MILLI_K;

/**
 * How the cost of a making is shared over what came out of it: one joint cost, several lots. Whatever the key, the
 * parts add up to the whole cost, to the millionth.
 */
import { allocate, mulDiv, sumOf } from './integers.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome } from './outcome.ts';
import type { Form } from './units.ts';

/** One kilogram in nanograms. */
const KILOGRAM = 1_000_000_000_000;

/** The measure the cost is shared by; `first`: all on the ones that come first, the last one stands at zero. */
export type ShareKey = 'weight' | 'equal' | 'length' | 'first';

/** One lot that came out. */
export interface CameOut {
  readonly name: string;
  readonly form: Form;
  /** Base units of its form. */
  readonly qty: number;
  /** Nanograms or nanometres by the key, where `qty` does not say it already. */
  readonly share?: number | undefined;
}

/** One piece, or one lot that is not counted in pieces, when all count the same. */
const ONE = 1_000_000;

const counted = ({ form, qty }: CameOut): number => (form === 'piece' || form === 'pair' ? qty : ONE);

/** The measure of a lot, in the base unit of a form; undefined when nothing says it. */
const measured = (out: CameOut, form: Form): number | undefined => (out.form === form ? out.qty : out.share);

const words = { weight: 'weigh', length: 'measure' } as const;

const allMeasured = (outputs: readonly CameOut[], key: 'weight' | 'length'): Outcome<number[]> => {
  const shares = outputs.map((out) => measured(out, key));
  const without = outputs.find((_, at) => shares[at] === undefined);
  return without === undefined
    ? ok(shares.map((share) => share ?? 0))
    : refuse(
        `The cost is shared by ${key}, and nothing says what ${without.name} ${words[key]}s. Write its ${key}, or share equally.`,
      );
};

/** The first ones among themselves: by what they hold where all are measured alike, else by count. */
const firstOnes = (outputs: readonly CameOut[]): number[] => {
  if (outputs.length === 1) return [1];
  const carrying = outputs.slice(0, -1);
  const alike = carrying.every((out) => out.form === carrying[0]?.form);
  return [...carrying.map((out) => (alike ? out.qty : counted(out))), 0];
};

/** The measure each lot carries of the cost, in the order given. Refuses a lot whose measure nobody wrote. */
export const sharesOf = (key: ShareKey, outputs: readonly CameOut[]): Outcome<number[]> => {
  if (outputs.length === 0) return refuse('Write what came out of it.');
  if (key === 'equal') return ok(outputs.map(counted));
  return key === 'first' ? ok(firstOnes(outputs)) : allMeasured(outputs, key);
};

/** The cost by the shares, exact: value in is value out. @param costMicro millionths of the currency unit */
export const shareCost = (costMicro: number, shares: readonly number[]): number[] =>
  allocate(costMicro, shares);

/**
 * What a kilogram cost, millionths of the currency unit; null for a weight so small that the figure says nothing.
 * @param ng nanograms
 */
export const perKilogram = (costMicro: number, ng: number): number | null => {
  const each = ng === 0 ? Infinity : costMicro / ng;
  return each * KILOGRAM > Number.MAX_SAFE_INTEGER ? null : mulDiv(costMicro, KILOGRAM, ng);
};

/** Value of the parts some of the lots make up, e.g. of what was destroyed. */
export const valueOf = (values: readonly number[], at: readonly number[]): number =>
  sumOf(at, (index) => values[index] ?? 0);

/** Cutting blanks from a bar, strip or sheet edge: what each blank takes of the bar's length, and so of its value. */
import { allocate, roundHalfAway } from './integers.ts';
import { ok, refuse } from './outcome.ts';
import type { Outcome, Refusal } from './outcome.ts';
import type { Describe } from './stock.ts';

/**
 * How the bar's cost is shared.
 * `by-length`: a blank takes its length and the kerf; a short end below the useful remnant rests in the blanks of this cut.
 * `whole-bar`: the bar is planned for so many blanks and each takes an equal share, so the short end is in all of them;
 * what other cuts leave behind the last share rests in it only where it is too short to be of use.
 */
export type Sharing =
  { readonly rule: 'by-length' } | { readonly rule: 'whole-bar'; readonly blanksPerBar: number };

export interface CutPlanInput {
  /** Length left of the bar in the books. */
  readonly barLeft: number;
  /** Length of the bar as it came in. */
  readonly barReceived: number;
  readonly blankLength: number;
  /** Width of the cut; 0 for sheared or laser-cut stock. */
  readonly kerf: number;
  /** Blanks cut now. */
  readonly blanks: number;
  /** Shorter than this is no use for another knife. */
  readonly usefulRemnant: number;
  readonly sharing: Sharing;
}

export interface BlankTake {
  /** Length drawn from the bar in the books. */
  readonly qty: number;
  /** Length of the blank itself. */
  readonly net: number;
  /** Kerf that goes with it (for information). */
  readonly kerf: number;
  /** Its share of the short end (for information). */
  readonly waste: number;
}

export interface CutPlan {
  readonly takes: readonly BlankTake[];
  /** Scrap whose cost rests in these blanks. */
  readonly shortEnd: number;
  /** Length left in the books for later cuts. */
  readonly remaining: number;
}

/** Length that so many blanks need: the last cut is needed only when something is left behind it. */
export const lengthNeeded = (blanks: number, blankLength: number, kerf: number): number =>
  blanks * blankLength + Math.max(0, blanks - 1) * kerf;

const checkSizes = (input: CutPlanInput): Refusal | undefined => {
  if (!Number.isInteger(input.blanks) || input.blanks <= 0)
    return refuse('Enter how many blanks are cut: at least one.');
  if (input.blankLength <= 0) return refuse('The blank must have a length above zero.');
  if (input.kerf < 0) return refuse('The width of the cut cannot be negative.');
  if (input.usefulRemnant < 0) return refuse('The least useful remnant cannot be negative.');
  if (input.barLeft <= 0) return refuse('Nothing is left of this bar. Choose another one.');
  return undefined;
};

const checkFit = (input: CutPlanInput, describe: Describe): Refusal | undefined => {
  const { barLeft, blankLength, blanks, kerf } = input;
  if (blankLength > barLeft) {
    return refuse(
      `The blank of ${describe(blankLength)} is longer than what is left of the bar, ${describe(barLeft)}.`,
    );
  }
  const needed = lengthNeeded(blanks, blankLength, kerf);
  if (needed <= barLeft) return undefined;
  const fit = Math.floor((barLeft + kerf) / (blankLength + kerf));
  return refuse(
    `${String(blanks)} blanks with their cuts need ${describe(needed)}, but ${describe(barLeft)} is left: enough for ${String(fit)}.`,
  );
};

const toTake = (qty: number, blankLength: number, kerf: number): BlankTake => {
  const cut = Math.min(kerf, Math.max(0, qty - blankLength));
  return { qty, net: blankLength, kerf: cut, waste: qty - blankLength - cut };
};

const planByLength = (input: CutPlanInput): CutPlan => {
  const { barLeft, blankLength, blanks, kerf, usefulRemnant } = input;
  const each = blankLength + kerf;
  const behind = Math.max(0, barLeft - blanks * each);
  const keeps = behind > 0 && behind >= usefulRemnant;
  const parts = keeps ? Array.from({ length: blanks }, () => each) : allocate(barLeft, equal(blanks));
  return {
    takes: parts.map((qty) => toTake(qty, blankLength, kerf)),
    shortEnd: keeps ? 0 : behind,
    remaining: keeps ? behind : 0,
  };
};

const equal = (count: number): number[] => Array.from({ length: count }, () => 1);

/** The most that rounding so many shares of a bar can leave over or lack. */
const crumb = (blanksPerBar: number): number => Math.ceil(blanksPerBar / 2);

/** How many planned blanks the bar still holds; the tolerance swallows the rounding of the share. */
export const blanksLeft = (barLeft: number, barReceived: number, blanksPerBar: number): number =>
  Math.floor((barLeft + crumb(blanksPerBar)) / roundHalfAway(barReceived, blanksPerBar));

/**
 * True where what lies behind the last planned share goes with it: the crumb that rounding leaves, or a piece too
 * short to be of use. More is left only when other things were cut from the bar; then it stays on the rack.
 */
export const restsInLast = (behind: number, blanksPerBar: number, usefulRemnant: number): boolean =>
  behind <= crumb(blanksPerBar) || behind < usefulRemnant;

const planWholeBar = (input: CutPlanInput, blanksPerBar: number, describe: Describe): Outcome<CutPlan> => {
  const { barLeft, barReceived, blankLength, blanks, kerf } = input;
  if (!Number.isInteger(blanksPerBar) || blanksPerBar <= 0) {
    return refuse('Enter for how many blanks the bar is planned: at least one.');
  }
  if (lengthNeeded(blanksPerBar, blankLength, kerf) > barReceived) {
    return refuse(
      `A bar of ${describe(barReceived)} does not yield ${String(blanksPerBar)} blanks of ${describe(blankLength)}. Plan fewer blanks per bar.`,
    );
  }
  const left = blanksLeft(barLeft, barReceived, blanksPerBar);
  if (blanks > left) {
    return refuse(
      `The bar is planned for ${String(blanksPerBar)} blanks and holds ${String(left)} more, too few to cut ${String(blanks)}.`,
    );
  }
  const share = roundHalfAway(barReceived, blanksPerBar);
  const last = blanks === left && restsInLast(barLeft - share * blanks, blanksPerBar, input.usefulRemnant);
  const parts = Array.from({ length: blanks }, (_, at) =>
    last && at === blanks - 1 ? barLeft - share * at : share,
  );
  const takes = parts.map((qty) => toTake(qty, blankLength, kerf));
  const shortEnd = last ? Math.max(0, barReceived - blanksPerBar * (blankLength + kerf)) : 0;
  return ok({ takes, shortEnd, remaining: last ? 0 : barLeft - share * blanks });
};

/**
 * Plans one cut. Quantities are lengths in nanometres. Draw each take from the bar's lot in order
 * (`drawLotParts`): the value follows the quantity, and a bar used up gives up all its value.
 * Refuses zero or negative sizes, a blank longer than the bar, and more blanks than fit.
 */
export const planCut = (input: CutPlanInput, describe: Describe = String): Outcome<CutPlan> => {
  const fault = checkSizes(input) ?? checkFit(input, describe);
  if (fault !== undefined) return fault;
  return input.sharing.rule === 'by-length'
    ? ok(planByLength(input))
    : planWholeBar(input, input.sharing.blanksPerBar, describe);
};

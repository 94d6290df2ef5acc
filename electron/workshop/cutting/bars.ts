/** Use-case: plan which bars and offcuts to cut. */
import type { CuttingPlan, PlannedBar } from '../../api/cutting.ts';
import type { Parsed } from '../../api/contract.ts';
import { refused } from '../../api/errors.ts';
import { takesOfBar } from '../../domain/bar-takes.ts';
import { planCut } from '../../domain/cutting.ts';
import { sum } from '../../domain/integers.ts';
import { type BarNesting, nestBars } from '../../domain/nesting-bars.ts';
import { drawLotParts } from '../../domain/stock.ts';
import type { ReadDb } from '../../storage/db.ts';
import { type LotToCut, wholeBarParts } from '../../storage/queries/cutting.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import { valueOrRefuse } from '../answers.ts';
import type { HandlerFor } from '../handlers.ts';
import { toLotState } from '../stock/draw.ts';
import { type Cutting, cuttingOf, demandKeys, lotsOf } from './gather.ts';
import { barSentence } from './words.ts';

type BarInput = Parsed<'cutting.plan'>;

/** A blank as far as a bar is concerned. */
export interface CutBlank {
  readonly buildId: string | null;
  readonly length: number;
}

/** How one bar is booked: what each blank draws, in order, and what stays. */
export interface BarBooking {
  readonly takes: readonly number[];
  readonly left: number;
  /** For how many blanks the model plans the bar; null where each pays for what it takes. */
  readonly sharedBy: number | null;
}

/** Finds for a blank how many its model plans from a whole bar; null where it does not, or the blank is another one. */
export type PerBar = (blank: CutBlank) => number | null;

/** The models' rule for the knives of a cut. */
export function perBarOf(db: ReadDb, itemId: string, blanks: readonly CutBlank[]): PerBar {
  const ids = [...new Set(blanks.flatMap((blank) => blank.buildId ?? []))];
  const parts = wholeBarParts(db, itemId, ids);
  return ({ buildId, length }) =>
    parts.find((part) => part.build_id === buildId && part.qty === length)?.per_bar ?? null;
}

/**
 * Blanks are laid on the bar by their true lengths. In the books a bar from which only blanks of one planned kind come is
 * shared as the model says, an equal part each; on any other bar each blank pays for its length and kerf.
 */
export function bookingOfBar(
  lot: LotToCut,
  blanks: readonly CutBlank[],
  { kerf, usefulRemnant, perBar }: { kerf: number; usefulRemnant: number; perBar: PerBar },
): BarBooking {
  const [first] = blanks;
  const sharedBy = first === undefined ? null : perBar(first);
  const alike = blanks.every((blank) => blank.length === first?.length && perBar(blank) === sharedBy);
  if (first !== undefined && sharedBy !== null && alike) {
    const shared = planCut({
      barLeft: lot.qty_left,
      barReceived: lot.qty_received,
      blankLength: first.length,
      kerf,
      blanks: blanks.length,
      usefulRemnant,
      sharing: { rule: 'whole-bar', blanksPerBar: sharedBy },
    });
    if (shared.ok) {
      const { takes, remaining } = shared.value;
      return { takes: takes.map((take) => take.qty), left: remaining, sharedBy };
    }
  }
  const lengths = blanks.map((blank) => blank.length);
  return { ...takesOfBar(lot.qty_left, lengths, kerf, usefulRemnant), sharedBy: null };
}

type Wish = BarInput['blanks'][number];

function plannedBar(lot: LotToCut, wishes: readonly Wish[], kerf: number, booking: BarBooking): PlannedBar {
  const drawn = valueOrRefuse(drawLotParts(toLotState(lot), booking.takes));
  let from = 0;
  const cuts = wishes.map((wish, at) => {
    const cut = { ...wish, from, valueMicro: drawn.draws[at]?.valueMicro ?? 0 };
    from += wish.length + kerf;
    return cut;
  });
  const behind = Math.max(0, lot.qty_left - sum(wishes.map((wish) => wish.length + kerf)));
  return {
    lotId: lot.id,
    tag: tagOf(lot.number),
    heatNumber: lot.heat_number,
    place: lot.place,
    before: lot.qty_left,
    cuts,
    kerf,
    left: booking.left > 0 ? booking.left : behind,
    leftUseful: booking.left > 0,
    leftValueMicro: drawn.lot.valueLeftMicro,
    sharedBy: booking.sharedBy,
  };
}

/** @throws FaultError `refused` when no blank finds a bar: there would be nothing to show */
function demandSome(
  { item, describe }: Cutting,
  lots: readonly LotToCut[],
  input: BarInput,
  found: BarNesting,
) {
  if (found.bars.length > 0) return;
  const longest = Math.max(0, ...lots.map((lot) => lot.qty_left));
  const shortest = Math.min(...input.blanks.map((blank) => blank.length));
  throw refused(
    `The blank of ${describe(shortest)} is longer than the longest piece of ${item.name} on the rack, ${describe(longest)}. Buy a longer bar or shorten the blank.`,
    'blanks',
  );
}

/** The plan for some blanks; changes nothing. */
export function planOfBars(db: ReadDb, input: BarInput): CuttingPlan {
  const cutting = cuttingOf(db, input.itemId, 'length');
  demandKeys(input.blanks);
  const lots = lotsOf(db, cutting, input.lotIds);
  const usefulRemnant = cutting.item.useful_remnant;
  const found = nestBars({
    bars: lots.map((lot) => ({
      id: lot.id,
      length: lot.qty_left,
      offcut: lot.qty_left < lot.qty_received || lot.parent_id !== null,
    })),
    blanks: input.blanks,
    kerf: input.kerf,
    usefulRemnant,
  });
  demandSome(cutting, lots, input, found);
  const perBar = perBarOf(db, cutting.item.id, input.blanks);
  const wishes = new Map(input.blanks.map((blank) => [blank.key, blank]));
  const wishOf = (key: string): Wish[] => {
    const wish = wishes.get(key);
    return wish === undefined ? [] : [wish];
  };
  const bars = found.bars.flatMap(({ id, keys }) => {
    const lot = lots.find((one) => one.id === id);
    const cut = keys.flatMap(wishOf);
    if (lot === undefined) return [];
    const booking = bookingOfBar(lot, cut, { kerf: input.kerf, usefulRemnant, perBar });
    return [plannedBar(lot, cut, input.kerf, booking)];
  });
  const unplaced = found.unplaced.flatMap(wishOf).map(({ key, label, length }) => ({ key, label, length }));
  const plan = { bars, unplaced, exact: found.exact, waste: found.waste };
  return {
    itemId: cutting.item.id,
    itemName: cutting.item.name,
    ...plan,
    sentence: barSentence(cutting, plan, input.kerf),
  };
}

/** Which bars to cut. */
export const plan: HandlerFor<'cutting.plan'> = (ctx, input) => planOfBars(ctx.db, input);

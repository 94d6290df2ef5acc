/** Sentences about makings. */
import type { MakingState, ShareKey } from '../../api/makings.ts';
import type { Workshop } from '../../api/workshop.ts';
import { roundHalfAway } from '../../domain/integers.ts';
import { formatMicro } from '../../domain/money.ts';
import type { Form } from '../../domain/units.ts';
import { weighedText } from '../../domain/weighing.ts';
import { tagOf } from '../../storage/queries/lots.ts';
import type { InputRecord } from '../../storage/queries/makings.ts';
import { describer, type Measured } from '../stock/views.ts';

/** Writes weights as the workshop weighs: `1,383 g`, or `48.78 oz (1,383 g)`. */
export const weigher =
  (shop: Pick<Workshop, 'weightHabit'>) =>
  (ng: number): string =>
    weighedText(ng, shop.weightHabit === 'oz');

/** A part to a tenth of a percent, for a column of figures: `8.0 %`. @param ppm parts per million */
export const tenth = (ppm: number): string => `${(roundHalfAway(ppm, 1000) / 10).toFixed(1)} %`;

const sized: readonly Form[] = ['length', 'area'];

/** E.g. `56 in of L-0003 (48 in bar at 22.00)`. */
export function inputWords(input: InputRecord, currency: string): string {
  const write = describer(input);
  const form = input.form as Form;
  const piece = sized.includes(form) && input.piece_word !== '' ? ` ${input.piece_word}` : '';
  const taken = form === 'worth' ? `${formatMicro(input.qty, currency)} worth` : write(input.qty);
  return `${taken} of ${tagOf(input.lot_number)} (${write(input.qty_received)}${piece} at ${formatMicro(input.value_received_micro, currency)})`;
}

/** E.g. `1,280 g of Billet 1084/nickel` or `2 pairs of Walnut pair, 30 sq in of Walnut`. */
export const yieldWords = (
  outputs: readonly (Measured & { readonly item_name: string; readonly qty: number })[],
): string => outputs.map((output) => `${describer(output)(output.qty)} of ${output.item_name}`).join(', ');

/** How far a making has come. */
export const stateWords: Readonly<Record<MakingState, string>> = {
  open: 'being worked on',
  done: 'finished',
  scrapped: 'scrapped',
};

/** By what the cost is shared. */
export const shareWords: Readonly<Record<ShareKey, string>> = {
  weight: 'by weight',
  equal: 'equally by piece',
  length: 'by length',
  first: 'all on the first ones',
};

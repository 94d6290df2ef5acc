/** A purchase while it is being written. */
import type { ItemRow } from '../../../electron/api/stock.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

export interface LineDraft {
  /** Tells the lines apart on the screen only. */
  readonly key: number;
  itemId: string;
  pieces: number | undefined;
  qtyEach: number | undefined;
  priceMicro: number | undefined;
  heatNumber: string;
  place: string;
}

export const blankLine = (key: number, itemId = ''): LineDraft => ({
  key,
  itemId,
  pieces: 1,
  qtyEach: undefined,
  priceMicro: undefined,
  heatNumber: '',
  place: '',
});

const million = 1_000_000;

/** How much one of them holds, when that goes without saying: one piece is one piece. */
export const usualEach = (item: ItemRow | undefined, line: LineDraft): number | undefined => {
  if (item?.form === 'piece' || item?.form === 'pair') return million;
  if (item?.form === 'worth') return line.priceMicro;
  return undefined;
};

/** A line nobody has touched is left out, so that an empty one at the end does no harm. */
export const isTouched = (line: LineDraft): boolean =>
  line.itemId !== '' || line.priceMicro !== undefined || line.qtyEach !== undefined;

/** What the contract takes. */
export const lineInput = (line: LineDraft) => ({
  itemId: line.itemId,
  pieces: line.pieces ?? missingNumber,
  qtyEach: line.qtyEach ?? missingNumber,
  priceMicro: line.priceMicro ?? missingNumber,
  heatNumber: line.heatNumber,
  place: line.place,
});

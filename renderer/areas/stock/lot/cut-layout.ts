/** Where each cut falls on the bar, to scale. */

export interface BarPiece {
  readonly kind: 'blank' | 'kerf' | 'scrap' | 'rest';
  /** From the near end of the bar, in nanometre. */
  readonly from: number;
  readonly size: number;
}

export interface BarLayoutInput {
  readonly barLeft: number;
  readonly blankLength: number;
  readonly kerf: number;
  readonly blanks: number;
  /** What stays in the books for later cuts; nothing means that the end behind the last cut is scrap. */
  readonly leftQty: number;
}

/**
 * Lays blanks along the bar from its near end, a cut behind each as far as there is metal; what is behind the last cut is
 * either kept or, when the plan keeps nothing, scrap.
 */
export const layBar = (input: BarLayoutInput): readonly BarPiece[] => {
  const pieces: BarPiece[] = [];
  let at = 0;
  const add = (kind: BarPiece['kind'], size: number): void => {
    const fits = Math.min(size, input.barLeft - at);
    if (fits <= 0) return;
    pieces.push({ kind, from: at, size: fits });
    at += fits;
  };
  for (let blank = 0; blank < input.blanks; blank += 1) {
    add('blank', input.blankLength);
    add('kerf', input.kerf);
  }
  add(input.leftQty > 0 ? 'rest' : 'scrap', input.barLeft - at);
  return pieces;
};

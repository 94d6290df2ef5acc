/** A making and what comes out of it, while they are being written. */
import type { MakingDetail, MakingKind, ShareKey } from '../../../electron/api/makings.ts';
import type { ItemRow } from '../../../electron/api/stock.ts';
import { shareCost, sharesOf } from '../../../electron/domain/making-share.ts';
import { missingNumber } from '../../lib/form.svelte.ts';
import { usualShare } from './making-words.ts';

export interface MakingDraft {
  title: string;
  shareKey: ShareKey;
  labourOver: 'all' | 'taken';
  startLayers: number | undefined;
  note: string;
}

export const blankMaking = (kind: MakingKind): MakingDraft => ({
  title: '',
  shareKey: usualShare[kind],
  labourOver: 'all',
  startLayers: undefined,
  note: '',
});

export const draftOf = (making: MakingDetail): MakingDraft => ({
  title: making.title,
  shareKey: making.shareKey,
  labourOver: making.labourOver,
  startLayers: making.startLayers ?? undefined,
  note: making.note,
});

/** What the contract takes. */
export const makingInput = (draft: MakingDraft) => ({ ...draft, startLayers: draft.startLayers ?? null });

/** One lot that comes out. */
export interface OutputDraft {
  /** Tells the lines apart on the screen only. */
  readonly key: number;
  itemId: string;
  qty: number | undefined;
  /** Nanograms or nanometres, where the quantity itself does not say it. */
  share: number | undefined;
  place: string;
  heatNumber: string;
}

export const blankOutput = (key: number, itemId = '', place = ''): OutputDraft => ({
  key,
  itemId,
  qty: undefined,
  share: undefined,
  place,
  heatNumber: '',
});

/** The measure a key asks for beside the quantity: none where the item is kept by it already. */
export const askedShare = (key: ShareKey, item: ItemRow | undefined): 'weight' | 'length' | undefined =>
  (key === 'weight' || key === 'length') && item !== undefined && item.form !== key ? key : undefined;

/** What the contract takes. */
export const outputInput = (line: OutputDraft, asked: 'weight' | 'length' | undefined) => ({
  itemId: line.itemId,
  qty: line.qty ?? missingNumber,
  ...(asked === undefined ? {} : { share: line.share ?? missingNumber }),
  place: line.place,
  heatNumber: line.heatNumber,
});

/** A line nobody has touched is left out. */
export const isTouched = (line: OutputDraft): boolean => line.itemId !== '' || line.qty !== undefined;

/**
 * What each line would carry of the cost, millionths; undefined while something is missing.
 * The same reckoning as in the books, so that what is shown is what will be booked.
 */
export const previewShares = (
  key: ShareKey,
  costMicro: number,
  lines: readonly OutputDraft[],
  itemOf: (id: string) => ItemRow | undefined,
): readonly number[] | undefined => {
  const outs = lines.flatMap((line) => {
    const item = itemOf(line.itemId);
    if (item === undefined || line.qty === undefined) return [];
    return [{ name: item.name, form: item.form, qty: line.qty, share: line.share }];
  });
  if (outs.length < lines.length) return undefined;
  const shares = sharesOf(key, outs);
  return shares.ok ? shareCost(costMicro, shares.value) : undefined;
};

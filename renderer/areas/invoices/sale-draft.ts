/** A sale while it is being written, and what it asks the books. */
import type { Input } from '../../../electron/api/contract.ts';
import { missingNumber } from '../../lib/form.svelte.ts';

/** Stands for "no tax is charged" in the list of tax places. */
export const noPlace = 'none';

export interface SaleDraft {
  buildId: string;
  buyerId: string;
  /** One of the buyer's delivery addresses; empty is the invoice address. */
  addressId: string;
  on: string;
  channelId: string;
  place: string;
  price: number | undefined;
  shipping: number | undefined;
  postage: number | undefined;
  abroad: boolean;
  invoice: boolean;
  dueOn: string;
  paidBy: string;
  packaging: boolean;
  /** Reminders looked at, by their keys. */
  ticks: string[];
}

/** A sale nobody has written anything into yet. @param home tax place of the workshop */
export const blankSale = (today: string, buildId: string, home: string): SaleDraft => ({
  buildId,
  buyerId: '',
  addressId: '',
  on: today,
  channelId: '',
  place: home === '' ? noPlace : home,
  price: undefined,
  shipping: 0,
  postage: 0,
  abroad: false,
  invoice: true,
  dueOn: '',
  paidBy: '',
  packaging: true,
  ticks: [],
});

const terms = (draft: SaleDraft) => ({
  buildId: draft.buildId,
  channelId: draft.channelId,
  taxPlaceId: draft.place === noPlace ? null : draft.place,
  abroad: draft.abroad,
});

/**
 * The channel a sale begins with: the one the last sale went through. None before the first sale, nor when that one
 * is no longer offered: a channel guessed wrongly would leave its fee out of every figure.
 */
export const usualChannel = (
  offered: readonly { readonly id: string; readonly name: string }[],
  lastName: string | undefined,
): string => offered.find((channel) => channel.name === lastName)?.id ?? '';

/** What to ask for the figures; undefined until there is enough to reckon with. */
export const figuresInput = (draft: SaleDraft): Input<'selling.figures'> | undefined =>
  draft.buildId === '' || draft.channelId === '' || draft.price === undefined
    ? undefined
    : {
        ...terms(draft),
        priceMinor: draft.price,
        shippingMinor: draft.shipping ?? 0,
        postagePaidMinor: draft.postage ?? 0,
      };

/** The command that books the sale. @param packaging what the knife can take with it, taken where the draft says so */
export const sellInput = (
  draft: SaleDraft,
  packaging?: Input<'selling.sell'>['packaging'],
): Input<'selling.sell'> => ({
  ...terms(draft),
  buyerId: draft.buyerId,
  ...(draft.addressId === '' ? {} : { addressId: draft.addressId }),
  on: draft.on,
  priceMinor: draft.price ?? missingNumber,
  shippingMinor: draft.shipping ?? missingNumber,
  postagePaidMinor: draft.postage ?? missingNumber,
  invoice: draft.invoice,
  paidBy: draft.invoice ? draft.paidBy : '',
  ticks: draft.ticks,
  ...(draft.invoice && draft.dueOn !== '' ? { dueOn: draft.dueOn } : {}),
  ...(draft.packaging && packaging !== undefined ? { packaging } : {}),
});

/** What an order asks for and costs, while it is being written. */
import type { Input } from '../../../electron/api/contract.ts';
import type { OrderDetail } from '../../../electron/api/orders.ts';
import { missingNumber } from '../../lib/form.svelte.ts';
import { type OptionDraft, optionDraftOf, writtenOptions } from '../builds/option-draft.ts';

/** Stands for "none" in a list of choices. */
export const none = 'none';

export interface SpecDraft {
  modelId: string;
  wish: string;
  price: number | undefined;
  special: number | undefined;
  shipping: number | undefined;
  options: OptionDraft[];
  channelId: string;
  place: string;
  abroad: boolean;
  addressId: string;
  promisedOn: string;
  note: string;
}

export const specDraftOf = (order: OrderDetail): SpecDraft => ({
  modelId: order.modelId ?? none,
  wish: order.wish,
  price: order.priceMinor ?? undefined,
  special: order.specialMinor,
  shipping: order.shippingMinor,
  options: order.options.map(optionDraftOf),
  channelId: order.channelId ?? '',
  place: order.taxPlaceId ?? none,
  abroad: order.abroad,
  addressId: order.addressId ?? none,
  promisedOn: order.promisedOn ?? '',
  note: order.note,
});

/** What the contract takes. @param priced whether a price must be named */
export const specInput = (draft: SpecDraft, priced: boolean): Omit<Input<'orders.change'>, 'id' | 'on'> => ({
  modelId: draft.modelId === none ? null : draft.modelId,
  wish: draft.wish,
  priceMinor: draft.price ?? (priced ? missingNumber : null),
  specialMinor: draft.special ?? 0,
  shippingMinor: draft.shipping ?? 0,
  options: writtenOptions(draft.options).map(({ optionId, name, priceMinor }) => ({
    optionId,
    name,
    priceMinor: priceMinor ?? missingNumber,
  })),
  channelId: draft.channelId === '' ? null : draft.channelId,
  taxPlaceId: draft.place === none ? null : draft.place,
  abroad: draft.abroad,
  addressId: draft.addressId === none ? null : draft.addressId,
  promisedOn: draft.promisedOn === '' ? null : draft.promisedOn,
  note: draft.note,
});

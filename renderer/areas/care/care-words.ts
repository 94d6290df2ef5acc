/** What follows a sale, in words. */
import type { ReturnEnd, Service, ServiceKind } from '../../../electron/api/care.ts';
import { money } from '../../lib/format.ts';

export const serviceWords: Readonly<Record<ServiceKind, string>> = {
  sharpening: 'Sharpening',
  repair: 'Repair',
  warranty: 'Warranty',
  other: 'Other work',
};

/** Where a service stands, with how loudly to say it. */
export const serviceStates: Readonly<
  Record<Service['state'], { readonly text: string; readonly tone: 'plain' | 'firm' | 'faint' }>
> = {
  here: { text: 'Here', tone: 'firm' },
  done: { text: 'Done, not sent', tone: 'plain' },
  sent: { text: 'Sent back', tone: 'faint' },
  cancelled: { text: 'Called off', tone: 'faint' },
};

/** What is asked for a service; nothing is said as free. */
export const askedText = ({ priceMinor }: Pick<Service, 'priceMinor'>): string =>
  priceMinor === 0 ? 'free' : money(priceMinor);

export const returnWords: Readonly<Record<ReturnEnd, string>> = {
  shelf: 'Back to the shelf: finished, for sale again',
  kept: 'Kept: own use, tester, gift',
  scrapped: 'Scrapped',
};

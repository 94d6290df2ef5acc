/** What posting a knife costs the buyer and the maker, and what is looked at before it leaves. */
import type { Input } from '../api/contract.ts';
import { mulDiv } from '../domain/integers.ts';
import { cents } from './amounts.ts';
import type { Ask } from './desk.ts';
import type { Variant } from './tables/models.ts';

/** Knives up to 90 mm and petty knives go in the small box. */
export const smallBox: readonly Variant[] = ['PAR', 'PET'];

/** A base and 1.1 % cover of the price, a signature from 300.00; abroad one rate. */
export function postageOf(
  variant: Variant,
  priceMinor: number,
  abroad: boolean,
): { charged: number; paid: number } {
  if (abroad) return { charged: cents('48.00'), paid: cents('46.20') };
  const small = smallBox.includes(variant);
  const base = cents(small ? '10.40' : '13.90') + (priceMinor >= cents('300.00') ? cents('3.75') : 0);
  return { charged: cents(small ? '12.00' : '18.00'), paid: base + mulDiv(priceMinor, 11, 1000) };
}

/** The maker looks at every reminder before a knife leaves, and ticks it. */
export async function looked(ask: Ask, parcel: Input<'shipping.reminders'>): Promise<string[]> {
  return (await ask('shipping.reminders', parcel)).map((reminder) => reminder.key);
}

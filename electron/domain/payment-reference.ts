/** Payment references with check digits, ISO 11649: a typing mistake in a transfer is noticed by the bank. */
import { plainIban } from './iban.ts';
import { checkDigits97, fitsCheck97 } from './mod97.ts';

/** What may stand behind the four characters at the front. */
const LONGEST = 21;

/**
 * The reference of an invoice: its number without signs, behind `RF` and two check digits.
 * @returns null where the number has no letter or digit, or more than 21 of them
 */
export function referenceOf(invoiceNumber: string): string | null {
  const plain = invoiceNumber.toUpperCase().replaceAll(/[^0-9A-Z]/g, '');
  if (plain === '' || plain.length > LONGEST) return null;
  return `RF${checkDigits97('RF', plain)}${plain}`;
}

/** True for a reference whose check digits fit; spaces and small letters are taken as typed by hand. */
export const isReference = (typed: string): boolean => {
  const plain = plainIban(typed);
  return /^RF\d{2}[0-9A-Z]{1,21}$/.test(plain) && fitsCheck97(plain);
};

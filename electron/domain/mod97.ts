/** Check digits modulo 97 of ISO/IEC 7064, as account numbers and payment references carry them. */

const A = 'A'.charCodeAt(0);

/** Letters as two digits, A = 10 to Z = 35. */
const digitsOf = (text: string): string =>
  text.replaceAll(/[A-Z]/g, (letter) => String(letter.charCodeAt(0) - A + 10));

/**
 * Remainder modulo 97 of digits and capital letters.
 * @throws RangeError for any other character
 */
export function mod97(text: string): number {
  if (!/^[0-9A-Z]+$/.test(text)) throw new RangeError('Only digits and capital letters have a remainder.');
  let rest = 0;
  for (const digit of digitsOf(text)) rest = (rest * 10 + Number(digit)) % 97;
  return rest;
}

/** Two check digits that make `text` with `prefix` behind it leave 1 (ISO 13616, ISO 11649). */
export const checkDigits97 = (prefix: string, text: string): string =>
  String(98 - mod97(`${text}${prefix}00`)).padStart(2, '0');

/** True when prefix and check digits at the front fit the rest. */
export const fitsCheck97 = (text: string): boolean =>
  /^[A-Z]{2}\d{2}[0-9A-Z]+$/.test(text) && mod97(text.slice(4) + text.slice(0, 4)) === 1;

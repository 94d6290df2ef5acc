/** Identifiers of things in the books. */
import { randomBytes } from 'node:crypto';

const LETTERS = 'abcdefghijklmnopqrstuvwxyz234567';
const LENGTH = 20;

/** A fresh random identifier: 20 letters and digits, 100 bits (base 32 of RFC 4648, lower case). */
export const randomId = (): string =>
  Array.from(randomBytes(LENGTH), (byte) => LETTERS[byte % LETTERS.length] ?? '').join('');

/** Identifiers that are the same at every run: `prefix` and a count, padded to the usual length. */
export function countingIds(prefix: string): () => string {
  let count = 0;
  return () => {
    count += 1;
    return prefix + String(count).padStart(LENGTH - prefix.length, '0');
  };
}

/** Identifiers of things in the books. */
import { randomFillSync } from 'node:crypto';

const LETTERS = 'abcdefghijklmnopqrstuvwxyz234567';
const LENGTH = 20;

/** Random bytes drawn ahead, each used once: a large import asks for tens of thousands of identifiers. */
const drawn = new Uint8Array(LENGTH * 512);
let used = drawn.length;

/** A fresh random identifier: 20 letters and digits, 100 bits (base 32 of RFC 4648, lower case). */
export const randomId = (): string => {
  if (used === drawn.length) {
    randomFillSync(drawn);
    used = 0;
  }
  let id = '';
  for (const end = used + LENGTH; used < end; used += 1)
    id += LETTERS.charAt((drawn[used] ?? 0) % LETTERS.length);
  return id;
};

/** Identifiers that are the same at every run: `prefix` and a count, padded to the usual length. */
export function countingIds(prefix: string): () => string {
  let count = 0;
  return () => {
    count += 1;
    return prefix + String(count).padStart(LENGTH - prefix.length, '0');
  };
}

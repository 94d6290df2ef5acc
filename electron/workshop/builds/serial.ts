/** How serials go on: from the knife planned last, one higher in the same way of writing. Pure. */

/** A serial taken apart: what stands before its last digits, and those digits. */
interface Serial {
  readonly prefix: string;
  readonly digits: string;
}

/** The first serial of a new workshop. */
const FIRST: Serial = { prefix: 'W', digits: '00' };

const takeApart = (serial: string): Serial | undefined => {
  const found = /^(.*?)(\d{1,15})$/.exec(serial);
  return found === null ? undefined : { prefix: found[1] ?? '', digits: found[2] ?? '' };
};

/** What the next serial begins with, by the newest serial that ends in digits. @param newest newest first */
export const serialPrefix = (newest: readonly string[]): string =>
  newest.map(takeApart).find((each) => each !== undefined)?.prefix ?? FIRST.prefix;

/**
 * The next free serials: one above the highest with the same beginning, as many digits wide at least.
 * @param highest the serial of the highest number that begins with `prefix`, if there is one
 */
export function nextSerials(prefix: string, highest: string | undefined, count: number): string[] {
  const digits = highest?.slice(prefix.length) ?? FIRST.digits;
  return Array.from(
    { length: count },
    (_, at) => prefix + String(Number(digits) + at + 1).padStart(digits.length, '0'),
  );
}

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
 * @param same every serial that begins with `prefix`
 */
export function nextSerials(prefix: string, same: readonly string[], count: number): string[] {
  const alike = same.map(takeApart).filter((each) => each?.prefix === prefix);
  let top = 0;
  let width = alike.length === 0 ? FIRST.digits.length : 1;
  for (const each of alike) {
    const digits = each?.digits ?? '';
    if (Number(digits) < top) continue;
    top = Number(digits);
    width = digits.length;
  }
  return Array.from({ length: count }, (_, at) => prefix + String(top + at + 1).padStart(width, '0'));
}

/** A plain linear congruential generator (modulus 2^31): no two days look alike and every run is the same. */
const MODULUS = 2_147_483_648n;

/** @returns a function that gives the next number below 2^31 */
export function chance(seed: number): () => number {
  let x = BigInt(seed);
  return () => {
    x = (1_103_515_245n * x + 12_345n) % MODULUS;
    return Number(x);
  };
}

/** Seed of one knife. */
export const seedOf = (serial: string): number => 20_240_701 + 97 * Number(serial.slice(1));

/** The next whole number from `low` to `high`, both included; the low bits of such a generator repeat too soon. */
export const between = (next: () => number, low: number, high: number): number =>
  low + (Math.floor(next() / 65_536) % (high - low + 1));
